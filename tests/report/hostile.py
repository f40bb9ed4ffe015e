"""Texts that people type by mistake or by malice, for everything that prints what was typed."""

from __future__ import annotations

HOSTILE = (
    "<script>alert('x')</script>",
    "</title></style><img src=http://example.invalid/x.png onerror=alert(1)>",
    '" onload="alert(1)',
    "]]></svg><svg onload=alert(1)>",
    "&lt;b&gt; &amp; & <",
    '=HYPERLINK("http://example.invalid","go")',
    "+1+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(A1:A9)",
    "\t=1+1",
    "\r\n=1+1",
    "[go](javascript:alert(1)) ![x](http://example.invalid/x.png)",
    "**bold** _it_ `code` | a | b |\n# heading\n- [ ] item",
    "{{ 7 * 7 }} {% raw %} ${7*7}",
    "(unbalanced \\ paren) Tj ET endstream endobj",
    "\x00\x07\x1b[31mred\u202eturned\u2066",
    "中文 עברית 😀 ≤ ² √ Δ ρ é",
    "word" * 400,
    "",
)
