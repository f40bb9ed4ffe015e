"""The web page of a paper in a browser: what an accessibility checker asks finds nothing, at 320 px nothing runs over.

The rules are those of WCAG 2.1 that can be tried by a program: language and title (3.1.1, 2.4.2), headings and
landmarks (1.3.1), names of pictures (1.1.1), header cells (1.3.1), contrast (1.4.3: 4.5 to 1), reflow at 320 px
(1.4.10), areas that scroll reached by keys (2.1.1), no id twice.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.report.test_job_paper import DAY, material, png
from ventsize.catalog.folders import shipped_folder
from ventsize.check.inputs import read_inputs
from ventsize.cli import main
from ventsize.quantity import System
from ventsize.report.job_paper import job_paper, material_of
from ventsize.report.paper.as_html import html as page_of

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

RULES = r"""
const lum = c => { const f = c.map(v => (v /= 255) <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4);
  return .2126 * f[0] + .7152 * f[1] + .0722 * f[2] };
const rgb = s => { const m = (s.match(/[\d.]+/g) || []).map(Number); return m.length < 3 || m[3] === 0 ? null : m };
function faults(d, width) {
  const out = [], all = s => [...d.querySelectorAll(s)], css = e => d.defaultView.getComputedStyle(e);
  const bad = (what, list) => list.forEach(e => out.push(what + ': ' + (e.textContent || '').trim().slice(0, 40)));
  if (!d.documentElement.lang || !d.title.trim()) out.push('no language or title');
  if (all('main').length !== 1 || all('h1').length !== 1) out.push('one main, one h1');
  let last = 0;
  all('h1,h2,h3,h4').forEach(h => { if (+h.tagName[1] > last + 1) out.push('heading jumps'); last = +h.tagName[1] });
  bad('outside of a landmark', [...d.body.children].filter(e => !/MAIN|HEADER|FOOTER|NAV/.test(e.tagName)));
  const ids = all('[id]').map(e => e.id);
  if (new Set(ids).size !== ids.length) out.push('an id twice');
  bad('picture without a name', all('img:not([alt])'));
  bad('drawing without a name', all('svg').filter(e => e.getAttribute('aria-hidden') !== 'true' &&
    !(e.getAttribute('role') === 'img' && (e.getAttribute('aria-label') || e.querySelector('title')))));
  bad('table without header cells', all('table').filter(t => !t.querySelector('th')));
  bad('header cell without scope', all('th').filter(h => !h.getAttribute('scope') || !h.textContent.trim()));
  bad('in a list, and no item', all('ul > :not(li), ol > :not(li), dl > :not(dt):not(dd):not(div)'));
  bad('empty link', all('a').filter(a => !a.textContent.trim()));
  const words = d.createTreeWalker(d.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const e = words.currentNode.parentElement, svg = e.closest('svg');
    if (!words.currentNode.data.trim() || /^(style|script|title|desc)$/i.test(e.tagName)) continue;
    let on = svg || e;
    while (on && !rgb(css(on).backgroundColor)) on = on.parentElement;
    const ink = rgb(svg ? css(e).fill : css(e).color), paper = on ? rgb(css(on).backgroundColor) : [255, 255, 255];
    const [a, b] = [ink, paper].map(lum);
    if ((Math.max(a, b) + .05) / (Math.min(a, b) + .05) < 4.5) out.push('contrast: ' + words.currentNode.data.trim());
  }
  bad('scrolls, and no key reaches it', all('*').filter(e => /auto|scroll/.test(css(e).overflowX) &&
    e.scrollWidth > e.clientWidth + 1 && e.tabIndex < 0 && e !== d.documentElement));
  if (d.documentElement.scrollWidth > width) out.push('the page runs over: ' + d.documentElement.scrollWidth);
  return out;
}
"""


def looked_at(page: str, folder: Path, widths: tuple[int, ...] = (320, 1200)) -> list[str]:
    """What the rules find in a page shown at these widths [px]; one start of the browser for all of them."""
    inner = html.escape(page)
    frames = "".join(
        f"<iframe style='border:0;width:{width}px;height:900px' srcdoc=\"{inner}\"></iframe>" for width in widths
    )
    asked = (
        f"<script>{RULES} onload = () => o.textContent = 'FOUND' + JSON.stringify([...document.querySelectorAll("
        f"'iframe')].flatMap((f, n) => faults(f.contentDocument, {list(widths)}[n]))) + 'END'</script>"
    )
    path = folder / "frame.html"
    path.write_text(f"<!doctype html><meta charset=utf-8>{frames}<pre id=o></pre>{asked}", encoding="utf-8")
    command = [str(CHROMIUM), "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=8000", "--dump-dom"]
    made = subprocess.run(
        [*command, f"--user-data-dir={folder / 'profile'}", path.as_uri()],
        capture_output=True, text=True, timeout=240, check=True,
    ).stdout  # fmt: skip
    answer = re.search(r"<pre id=\"o\">FOUND(.*?)END</pre>", made, re.DOTALL)
    assert answer, made[-500:]
    found: list[str] = json.loads(html.unescape(answer[1]))
    return found


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
@pytest.mark.parametrize("name", ["two-pipe-at-altitude", "no-acceptable-option"])
def test_a_checker_finds_nothing(name: str, tmp_path: Path) -> None:
    """At the width of a telephone and of a desk; and the rules do find what is wrong."""
    page = page_of(job_paper(material(shipped_folder("scenarios") / f"{name}.toml")))
    assert looked_at(page, tmp_path) == []
    spoilt = page.replace(' scope="', ' data-scope="').replace(" lang=", " data-lang=")
    spoilt = spoilt.replace("<main>", "<main><p style='width:900px;color:#bbb'>spoilt</p><img src=x>")
    found = " ".join(looked_at(spoilt, tmp_path, (320,)))
    for what in ("language", "scope", "contrast", "picture", "runs over"):
        assert what in found, what


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_a_heading_and_a_logo_run_over_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As long a heading as may be, in one word, and a wide logo."""
    monkeypatch.setenv("VENTSIZE_FOLDER", str(tmp_path))
    (tmp_path / "letterhead.toml").write_text(f'heading = "{"W" * 80}"\nlogo = "logo.png"', encoding="utf-8")
    (tmp_path / "logo.png").write_bytes(png(3000, 200))
    inputs = read_inputs(shipped_folder("scenarios") / "simple-pass.toml")
    page = page_of(job_paper(material_of(inputs, system=System.US, day=DAY)))
    assert looked_at(page, tmp_path) == []


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
@pytest.mark.parametrize(
    "asked",
    [
        ["working", "simple-pass"],
        ["compare", "old-two-inch-run", "two-sizes"],
        ["proposal", "two-sizes", "old-two-inch-run"],
        ["exercises", "--part", "all"],
    ],
    ids=lambda asked: asked[0],
)
def test_nor_in_other_papers(asked: list[str], tmp_path: Path) -> None:
    """Formulas over several lines, columns without a name, ways side by side."""
    folder = shipped_folder("scenarios")
    jobs = [str(folder / f"{word}.toml") if (folder / f"{word}.toml").is_file() else word for word in asked]
    main([*jobs, "--html", str(tmp_path / "page.html")])
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert looked_at(page, tmp_path) == []
