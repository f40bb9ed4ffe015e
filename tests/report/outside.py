"""What an HTML file would ask others for, or run: found by parsing it, so that no browser is needed."""

from __future__ import annotations

from html.parser import HTMLParser

LOADS = {"src", "href", "xlink:href", "action", "formaction", "data", "poster", "srcset", "background", "ping"}
RUNS = {"script", "iframe", "object", "embed", "link", "base", "form", "audio", "video", "img", "image", "use", "a"}


class Page(HTMLParser):
    """A page taken apart."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.faults: list[str] = []
        self.headings: list[int] = []
        self.pictures: list[str | None] = []
        self.tags: set[str] = set()
        self.open: list[str] = []
        self.text: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag in RUNS:
            self.faults.append(f"<{tag}>")
        for name, value in attrs:
            if name in LOADS or name.startswith("on"):
                self.faults.append(f"{tag} {name}={value}")
            if name == "style" and "url(" in (value or ""):
                self.faults.append(f"{tag} style={value}")
        if tag in ("h1", "h2", "h3", "h4"):
            self.headings.append(int(tag[1]))
        if tag == "svg":
            self.pictures.append(dict(attrs).get("aria-label"))
        if tag not in ("meta", "br", "hr", "img", "input"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if self.open and self.open[-1] == tag:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing")

    def handle_data(self, data: str) -> None:
        self.text.append(data)
        if self.open and self.open[-1] == "style" and ("url(" in data or "@import" in data):
            self.faults.append("the style asks for another file")
