"""`ventsize guide`: the guide, topic by topic."""

from __future__ import annotations

import argparse

from ventsize.cli.status import WITHIN


def prepare(parser: argparse.ArgumentParser) -> None:
    """The verb's arguments."""
    from ventsize.guide import TOPICS

    parser.add_argument("topic", nargs="?", choices=tuple(TOPICS), metavar="TOPIC", help=", ".join(TOPICS))
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print a topic; without one, what there is."""
    from ventsize.guide import TOPICS, topic

    if options.topic:
        print(topic(options.topic), end="")
        return WITHIN
    print("Topics (ventsize guide TOPIC):")
    for name, about in TOPICS.items():
        print(f"  {name:<10} {about}")
    return WITHIN
