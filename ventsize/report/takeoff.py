"""A takeoff as text, as CSV and as an object for JSON."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from ventsize.jobfile.letters import harmless
from ventsize.quantity import System, show_length
from ventsize.report.items import describe, size_of
from ventsize.report.keys import Keys
from ventsize.report.money import in_column, is_unknown, least, reasons
from ventsize.report.text_parts import WIDTH, as_text, indented
from ventsize.report.wording import place_of, say
from ventsize.studies.pricing.files import CHARGE, LABOR, MARKUP, TAX, TAX_ALL
from ventsize.studies.pricing.prices import Charge, Cost, PricedItem
from ventsize.studies.takeoff.cutting import CutBar, CutPlan
from ventsize.studies.takeoff.tally import Cut, Item, PipeCuts, Takeoff


@as_text
def render(takeoff: Takeoff, cost: Cost | None, system: System) -> Iterator[str]:
    """The takeoff as lines no wider than 80 columns."""
    yield textwrap.shorten(takeoff.title, WIDTH, placeholder="…")
    yield "=" * WIDTH
    yield "Takeoff" + ("" if takeoff.complete else ", NOT COMPLETE: see what is missing below")
    yield ""
    if cost is None:
        yield from (f"{item.quantity:>5}  {describe(item, system)}" for item in takeoff.items)
    else:
        yield from _priced(cost, system)
    for cuts in takeoff.cut_lists:
        yield ""
        yield from _cuts(cuts, system)
    for head, findings in (("Missing", takeoff.missing), ("What it goes by", takeoff.notes)):
        if findings:
            yield ""
            yield head
            for found in findings:
                yield from indented(say(found, system), "  - ", "    ")


def _priced(cost: Cost, system: System) -> Iterator[str]:
    yield f"{'':>5}  {'':<42} {'each':>12} {cost.currency:>14.14}"
    prices = [line.price for line in cost.lines]
    for line in cost.lines:
        each, amount = (
            ("no price", "missing") if line.price is None else (in_column(line.price, prices), f"{line.amount:,}")
        )
        what = textwrap.shorten(describe(line.item, system), 42, placeholder="…")
        yield f"{line.item.quantity:>5}  {what:<42} {each:>12} {amount:>14}"
        if line.pack > 1:
            yield f"{'':>7}{line.packs} pack{'s' * (line.packs != 1)} of {line.pack}, each pack at the price shown"
    for name, amount in sums(cost):
        yield _sum(name, amount)
    for reason in reasons(cost, system):
        yield from indented(reason, "  - ", "    ")
    if cost.source:
        yield from indented(f"prices: {cost.source}", "  - ", "    ")


def _sum(name: str, amount: str) -> str:
    return f"{'':>7}{name:<42} {amount:>27}".rstrip()


def sums(cost: Cost) -> Iterator[tuple[str, str]]:
    """What the lines of a cost add up to, by name, the total last."""
    if is_unknown(cost):
        yield "Total", "not known"
        return
    prices = cost.prices
    yield "Materials", least(cost.materials, bool(cost.without_price or cost.left_out))
    if cost.markup is not None:
        yield f"Mark-up, {_share(prices.markup)} of materials", f"{cost.markup:,}"
    if cost.hours:
        hours = f"Labor, {cost.hours.normalize():f} hours"
        yield hours, "an hour has no price" if cost.labor is None else f"{cost.labor:,}"
    for charge in cost.charges:
        yield charge.name, f"{charge.price:,}"
    if cost.tax is not None:
        on = "materials with mark-up" if cost.markup is not None else "materials"
        yield f"Tax, {_share(prices.tax)} of {on if prices.tax_on == 'materials' else 'everything'}", f"{cost.tax:,}"
    yield "Total", least(cost.total, cost.at_least)


def _cuts(cuts: PipeCuts, system: System) -> Iterator[str]:
    plan = cuts.plan
    yield f"Cut list: {cuts.label} {cuts.material}, {proof(cuts)}"
    yield "-" * WIDTH
    for bar in plan.bars:
        pieces = " + ".join(show_length(piece, system) for piece in bar.pieces)
        rest = rest_of(bar, system)
        head = f"  {bar.count} x {show_length(bar.stock, system)}:  "
        yield from textwrap.wrap(f"{head}{pieces};  {rest}", WIDTH, subsequent_indent=" " * len(head))
    yield from indented(use_of(plan, system), "  ")
    yield "  Pieces, in the order of the runs:"
    for cut in cuts.cuts:
        off = f"  ({show_length(cut.taken_off, system)} taken off)" if cut.taken_off else ""
        yield f"    {show_length(cut.length, system):>16}  {place_of(cut.where)}{off}"


def rest_of(bar: CutBar, system: System) -> str:
    """What is left of a stock length: to keep, waste, or too thin to saw off."""
    if bar.over:
        return f"last piece {show_length(bar.over, system)} long: too thin to saw off"
    if not bar.offcut:
        return "no rest"
    return f"rest {show_length(bar.offcut, system)}, {'keep' if bar.usable else 'waste'}"


def use_of(plan: CutPlan, system: System) -> str:
    """Where the pipe that is bought goes: pieces, offcuts that are kept, waste."""
    pieces = plan.bought - plan.kept - plan.waste
    said = f"Bought {show_length(plan.bought, system)}: {show_length(pieces, system)} used"
    kept = f", {show_length(plan.kept, system)} kept" if plan.kept else ""
    return f"{said}{kept}, {show_length(plan.waste, system)} waste"


def proof(cuts: PipeCuts) -> str:
    """How many stock lengths a cut list takes, and what is proven of it."""
    plan = cuts.plan
    number = f"{plan.number} length{'s' * (plan.number != 1)}"
    if not plan.fewest:
        return f"{number}, not proven the fewest (no plan has under {plan.least_number})"
    return f"{number}, the fewest" + (" and least waste" if plan.least_waste else "; least waste not proven")


def as_csv(takeoff: Takeoff, cost: Cost | None, system: System) -> str:
    """Items as rows for a spreadsheet. What has no price has an empty field, never a zero."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(CSV_COLUMNS)
    currency = harmless(cost.currency) if cost else ""
    for line in cost.lines if cost else tuple(PricedItem(item=item) for item in takeoff.items):
        item = line.item
        length = "" if item.length is None else show_length(item.length, system)
        texts = [item.what, size_of(item, system), item.material, length]
        packs = ["", ""] if line.pack == 1 else [line.pack, line.packs]
        numbers = [_text(value) for value in (line.amount, line.hours, line.all_hours)]
        row = [*map(harmless, texts), item.quantity, _text(line.price), *packs, *numbers, currency]
        writer.writerow(row)
    for name, quantity, price, amount in _besides(cost) if cost else ():
        writer.writerow([harmless(name), "", "", "", quantity, price, "", "", amount, "", "", currency])
    return out.getvalue()


CSV_COLUMNS = (
    *("item", "size", "material", "length", "quantity", "price", "pack", "packs"),
    *("amount", "hours", "all hours", "currency"),
)


def _besides(cost: Cost) -> Iterator[tuple[str, str, str, str]]:
    """What a cost has besides things to buy, as rows that a price list may have: name, how many, price, amount."""
    prices = cost.prices
    if cost.markup is not None:
        yield MARKUP, "", _share(prices.markup), f"{cost.markup:f}"
    if prices.labor is not None:
        yield LABOR, f"{cost.hours.normalize():f}", f"{prices.labor:f}", _text(cost.labor)
    for charge in cost.charges:
        yield f"{CHARGE}{charge.name}", "1", f"{charge.price:f}", f"{charge.price:f}"
    if cost.tax is not None:
        yield TAX if prices.tax_on == "materials" else TAX_ALL, "", _share(prices.tax), f"{cost.tax:f}"


def _text(value: Decimal | None) -> str:
    return "" if value is None else f"{value:f}"


def _share(value: Decimal | None) -> str:
    return "" if value is None else f"{(value * 100).normalize():f} %"


def as_object(takeoff: Takeoff, cost: Cost | None, system: System) -> dict[str, Any]:
    """The takeoff for JSON: SI, keys end in their unit; money as text, to the cent."""
    return {
        "job": takeoff.title,
        "complete": takeoff.complete,
        "items": _ITEM.each(takeoff.items),
        "cut_lists": [
            {
                **_PIPE(cuts),
                "pieces": [{"run": c.where.run, "place": place_of(c.where), **_CUT(c)} for c in cuts.cuts],
                "stock": _BAR.each(cuts.plan.bars),
                **_PLAN(cuts.plan),
            }
            for cuts in takeoff.cut_lists
        ],
        "joints": takeoff.joints,
        "missing": [say(found, system) for found in takeoff.missing],
        "notes": [say(found, system) for found in takeoff.notes],
        "cost": None if cost is None else _cost_object(cost),
    }


_ITEM = Keys(Item, "item:what size:label material length_m quantity")
_PIPE = Keys(PipeCuts, "material size:label")
_CUT = Keys(Cut, "length_m taken_off_m")
_BAR = Keys(CutBar, "length_m:stock count pieces_m offcut_m usable over_m")
_PLAN = Keys(CutPlan, "number least_number bought_m kept_m waste_m proven_fewest:fewest proven_least_waste:least_waste")
_COST = Keys(Cost, "currency source materials hours labor markup tax total lowest highest at_least")
_PRICED = Keys(PricedItem, "price amount hours:all_hours")
_CHARGE = Keys(Charge, "name price")


def _cost_object(cost: Cost) -> dict[str, Any]:
    lines = [{**_ITEM(line.item), **_PRICED(line)} for line in cost.lines]
    return {**_COST(cost), "lines": lines, "charges": _CHARGE.each(cost.charges)}
