"""The charts of `ventsize.report.chart`, for the screens."""

from ventsize.report.chart import Line, line_chart, round_ticks

__all__ = ["Line", "line_chart", "round_ticks"]
