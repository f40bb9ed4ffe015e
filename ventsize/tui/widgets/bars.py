"""The bar of `ventsize.report.chart`, for the screens."""

from ventsize.report.chart import bar

__all__ = ["bar"]
