"""The report of a trial: what differs from the plan, what was found, and the page of what may be said."""

import math
from collections.abc import Sequence
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.sheets.paper import Style
from waterleaf.trial import document, figures
from waterleaf.trial.analysis import Analysis, method_means
from waterleaf.trial.checks import look
from waterleaf.trial.document import Block
from waterleaf.trial.intake import Finding, Intake
from waterleaf.trial.model import Line
from waterleaf.trial.origin import Origin
from waterleaf.trial.pairs import Pair, places
from waterleaf.trial.plan import Plan
from waterleaf.trial.planning import amount, measured, measured_amount, named_test, plain
from waterleaf.trial.statement import interval_name, make_statement
from waterleaf.working.steps import work
from waterleaf.working.units import with_unit, written

_SHOWN: Final = 12
# With so many methods at most, both figures have room beside each other.
_BESIDE: Final = 4
# Lines of tables and box that leave room for the assumptions on page one of the smaller paper.
_ROOM: Final = 6
_LINES_OF_BOX: Final = 3


def blocks_of(analysis: Analysis, intake: Intake, origin: Origin) -> list[Block]:
    """The report as blocks: findings on the first page, the statement at the head of the second, details after it."""
    plan = analysis.plan
    deviations = [*origin.changes, *_from_data(intake), *analysis.notes]
    made: list[Block] = [document.text(plan.question)]
    if intake.invented:
        made.append(document.text("A rehearsal: every reading below is invented."))
    if deviations:
        made.append(document.box("What differs from the frozen plan", deviations))
    made += [document.text(_what_was_done(plan, intake, origin)), *_figure(analysis), *_main_result(analysis)]
    first = len(analysis.pairs) + len(plan.methods) + _LINES_OF_BOX * len(deviations) <= _ROOM
    made += _assumptions(analysis) if first else []
    made += [document.page_break(), *_statement_page(analysis, origin)]
    made += [] if first else _assumptions(analysis)
    made += _details(analysis, intake)
    return made


def _from_data(intake: Intake) -> list[str]:
    said = []
    if len(intake.readings) < intake.expected:
        said.append(f"{len(intake.readings)} of {intake.expected} planned readings could be used.")
    if intake.count("held"):
        said.append(f"Held back until a person decides, and listed at the end: {intake.count('held')} of the rows.")
    return said


def _what_was_done(plan: Plan, intake: Intake, origin: Origin) -> str:
    frozen = f"frozen on {origin.frozen_on}, " if origin.frozen_on else ""
    each = f"{plan.units_each} {plan.unit}{'s' * (plan.units_each > 1)}"
    readings = "1 reading" if plan.readings == 1 else f"{plan.readings} readings"
    dated = ""
    if intake.days:
        first, last = intake.days
        dated = f", read on {first}" if first == last else f", read from {first} to {last}"
    return (
        f"{plan.crop[:1].upper()}{plan.crop[1:]}, {plan.variety}; {len(plan.methods)} methods, {each} of each, "
        f"{readings} a {plan.unit}. Plan {plan.name}, {frozen}fingerprint {origin.fingerprint}; data "
        f"{origin.data_file}{dated}."
    )


def _figure(analysis: Analysis) -> list[Block]:
    plan = analysis.plan
    interval = ", with their 95 % intervals" if analysis.tested else ""
    lines = "; lines join the units of one block" if any(mean.unit.block for mean in analysis.unit_means) else ""
    caption = f"Dots: every reading. Rings: means of one {plan.unit}. Diamonds: means of methods{interval}{lines}."
    beside = analysis.tested and analysis.fit is not None and len(plan.methods) <= _BESIDE
    shown = document.figure(figures.readings_figure(analysis), figures.readings_alternative(analysis), caption)
    return [document.side_by_side([shown, _residuals(analysis)], [5, 3])] if beside else [shown]


def _residuals(analysis: Analysis) -> Block:
    caption = f"What the model leaves over, a ring a {analysis.plan.unit}. A fan or a bow would be a warning."
    narrow = len(analysis.plan.methods) <= _BESIDE
    return document.figure(
        figures.residual_figure(analysis, narrow=narrow), figures.residual_alternative(analysis), caption
    )


def _assumptions(analysis: Analysis) -> list[Block]:
    """What the test takes for granted, what was found, and what that is worth."""
    rows = [[check.title, check.result, check.meaning] for check in look(analysis)]
    if not rows:
        return []
    return [document.table("What the test takes for granted", ["assumption", "found", "what it is worth"], rows)]


def _main_result(analysis: Analysis) -> list[Block]:
    plan = analysis.plan
    if analysis.fit is None or not analysis.tested or analysis.main_p is None:
        return [document.text("Nothing was tested: the trial has no error to test against.")]
    rows = [[line.source, str(line.freedom), plain(line.squares, 4), *_ratio(line)] for line in analysis.fit.table]
    instead = ""
    if analysis.mixed_leads != (plan.test == "mixed"):
        instead = "; the mixed model in its place" if analysis.mixed_leads else "; unit means in its place"
    named = f"Test named in the plan: {named_test(plan)}{instead}."
    found = [
        document.text(f"{named} {analysis.main_text}, {said_p(analysis.main_p)}."),
        _mean_table(analysis),
        document.table(
            f"Analysis of variance of the {plan.unit} means",
            ["source", "degrees of freedom", "squares", "mean square", "F", "p"],
            rows,
        ),
        _pair_table(analysis),
    ]
    if plan.test in ("welch", "ranks") or analysis.mixed_leads:
        leader = "the mixed model" if analysis.mixed_leads else named_test(plan)
        found[2]["caption"] += f" (for comparison: {leader} leads)"
    return found


def _mean_table(analysis: Analysis) -> Block:
    """Mean of every method with its own interval of 95 %, by the test that leads."""
    plan = analysis.plan
    rows = []
    for method, mean, error, freedom in method_means(analysis):
        own = [one for one in analysis.unit_means if one.unit.method == method]
        half = t_quantile(0.975, freedom) * error
        readings = sum(len(one.readings) for one in own)
        ends = f"{measured(mean - half, plan)} to {measured(mean + half, plan)}"
        rows.append([method, str(len(own)), str(readings), measured(mean, plan), ends])
    unit = f" ({written(plan.response.unit)})" if plan.response.unit else ""
    return document.table(
        f"Means of {plan.response.name}{unit}, each with its own 95 % interval",
        ["method", f"{plan.unit}s", "readings", "mean", "interval"],
        rows,
    )


def probability(p: float) -> str:
    """A p value as printed."""
    return "< 0.0001" if p < 0.0001 else f"{p:.4f}"


def said_p(p: float) -> str:
    """A p value in a sentence."""
    return f"p {probability(p)}" if p < 0.0001 else f"p = {probability(p)}"


def _ratio(line: Line) -> list[str]:
    square = plain(line.mean_square, 4) if line.freedom and line.source != "total" else ""
    if line.f_ratio is None or line.p is None:
        return [square, "", ""]
    return [square, plain(line.f_ratio, 4), probability(line.p)]


def _ends(pair: Pair, plan: Plan) -> str:
    if not math.isfinite(pair.low):
        return "too few units"
    return f"{measured(pair.low, plan)} to {measured(pair.high, plan)}"


def _pair_table(analysis: Analysis) -> Block:
    plan = analysis.plan
    alike = plan.aim == "equivalence"
    rows = [
        [
            f"{pair.first} − {pair.second}",
            measured(pair.difference, plan),
            _ends(pair, plan),
            probability(pair.p),
            *([probability(pair.adjusted)] if len(analysis.pairs) > 1 else []),
            f"{pair.effect:.2f}".replace("-", "−"),
            *([probability(pair.alike_p)] if alike else []),
        ]
        for pair in analysis.pairs
    ]
    several = len(rows) > 1
    shared = f", shared by {plan.adjust.capitalize()}'s method" if several else ""
    unit = f" ({written(plan.response.unit)})" if plan.response.unit else ""
    kind = "Middle differences" if plan.test == "ranks" else "Differences"
    caption = f"{kind}{unit}; {interval_name(plan)}{shared}; effect in standard deviations of unit means"
    if alike:
        caption += f"; alike: p of equivalence within {amount(plan.smallest_difference, plan)}"
    return document.table(
        caption,
        ["pair", "difference", "interval", "p alone" if several else "p", *(["p shared"] if several else []), "effect",
         *(["p alike"] if alike else [])],
        rows,
    )  # fmt: skip


def _statement_page(analysis: Analysis, origin: Origin) -> list[Block]:
    statement = make_statement(analysis, margin_stands=origin.margin_stands)
    return [
        document.heading("What may be said"),
        document.items(statement.may),
        document.heading("What may not be said"),
        document.items(statement.may_not),
        document.heading("What a further trial would need"),
        document.items(statement.further),
    ]


def _details(analysis: Analysis, intake: Intake) -> list[Block]:
    plan = analysis.plan
    made: list[Block] = [] if not analysis.tested or len(plan.methods) <= _BESIDE else [_residuals(analysis)]
    made += [*_about_sub_samples(analysis), *_about_mixed(analysis)]
    if analysis.pairs and plan.test != "ranks":
        made += _worked(max(analysis.pairs, key=lambda pair: abs(pair.difference)), plan)
    means = [
        [m.unit.code, m.unit.place, m.unit.method, measured(m.value, plan), _every(m.readings, plan)]
        for m in analysis.unit_means
    ]
    made.append(document.heading("Every unit and every reading"))
    made.append(document.table("", ["code", "place", "method", "mean", "readings used"], means))
    return made + found_in_table(intake.findings)


def _about_sub_samples(analysis: Analysis) -> list[Block]:
    if analysis.wrong_unit is None or analysis.wrong_unit.p is None:
        return []
    plan = analysis.plan
    plants = sum(len(mean.readings) for mean in analysis.unit_means)
    said = (
        f"The {plants} plants are sub-samples: the test used one mean a "
        f"{plan.unit}. Had every plant been taken for a unit, the same test would have printed "
        f"{said_p(analysis.wrong_unit.p)}. That number is wrong; it stands here to show what the wrong unit does."
    )
    if analysis.likeness is not None:
        said += f" Likeness of plants of one {plan.unit} (intraclass correlation): {analysis.likeness:.2f}."
    return [document.heading("Units and sub-samples"), document.text(said)]


def _every(readings: Sequence[float], plan: Plan) -> str:
    """Readings as the instrument shows them, or a decimal finer where they were brought to 20 degrees."""
    return ", ".join(measured(value, plan, int(plan.needs_temperature)) for value in readings)


def _about_mixed(analysis: Analysis) -> list[Block]:
    """The mixed model beside unit means: where they part, and which of them leads."""
    found, fitted, plan = analysis.mixed, analysis.fit, analysis.plan
    if found is None or fitted is None:
        return []
    rows = []
    for (one, two), (first, second, gap, error, _) in zip(places(len(found.methods)), found.pairs(), strict=True):
        values = (*fitted.difference(one, two), gap, error)
        rows.append([f"{first} − {second}", *(measured(value, plan, 2) for value in values)])
    between, within = (measured_amount(math.sqrt(square), plan) for square in (found.between, found.within))
    spread = (
        f"The mixed model puts the standard deviation between {plan.unit}s of one method at {between} and that of "
        f"plants within one {plan.unit} at {within}. Its main test: F = {found.ratio:.4g} on {len(found.methods) - 1} "
        f"and {found.freedom} degrees of freedom, {said_p(found.p)}; those for error are counted by {plan.unit}s."
    )
    made = [document.heading("Unit means and the mixed model"), document.text(spread)]
    if all(row[1:3] == row[3:5] for row in rows):
        made.append(document.text("Differences and their standard errors are the same both ways."))
    else:
        heads = ["pair", "unit means", "error", "mixed model", "error"]
        made.append(document.table("Differences and their standard errors, two ways", heads, rows))
    return [*made, document.text(_which_leads(analysis, found.trouble))]


def _which_leads(analysis: Analysis, trouble: str) -> str:
    if analysis.mixed_leads:
        why = "as the plan named it" if analysis.plan.test == "mixed" else "since one method has far fewer readings"
        return (
            f"The mixed model leads, {why}: it gives more weight to a unit with more readings. Unit means are the "
            "plain check."
        )
    why = "the plan named them" if analysis.plan.test == "anova" else f"the plan named the mixed model, but {trouble}"
    return (
        f"Unit means lead: {why}. With the same number of readings everywhere the two agree. Where they part, units "
        "have unequal numbers, or the mixed model found no spread between units."
    )


def _worked(pair: Pair, plan: Plan) -> list[Block]:
    """The largest difference by hand, with the relations of the course."""
    shown = {"standard_error": _short(pair.error), "freedom": _short(pair.freedom)}
    try:
        steps = work("difference_t", {"difference": _short(pair.difference), "standard_error": shown["standard_error"]})
        lines = [step.line.plain for step in (*steps.steps, *work("difference_half_width", shown).steps)]
    except OutOfRange:  # a scale on which our relations have no range
        return []
    by_hand = [with_unit(plain(value, 4), plan.response.unit) for value in (pair.difference, pair.error)]
    first = (
        f"{pair.first[:1].upper()}{pair.first[1:]} less {pair.second}, taken alone at 95 %: difference {by_hand[0]}, "
        f"standard error {by_hand[1]}, {pair.freedom:.3g} degrees of freedom."
    )
    return [document.heading("The largest difference by hand"), document.text(first), document.items(lines)]


def _short(value: float) -> float:
    """Four figures, as a person would take down."""
    return float(f"{value:.4g}")


def found_in_table(findings: Sequence[Finding]) -> list[Block]:
    """What was found in the table, as a list with a heading; nothing where nothing was found."""
    if not findings:
        return []
    kinds = {"held": "held back", "missing": "missing", "flagged": "flagged and used"}
    lines = [f"{finding.where}: {kinds[finding.kind]}: {finding.message}" for finding in findings[:_SHOWN]]
    if len(findings) > _SHOWN:
        lines.append(f"and {len(findings) - _SHOWN} more: waterleaf trial read lists them")
    return [document.heading("What was found in the table"), document.items(lines)]


def write_report(analysis: Analysis, intake: Intake, origin: Origin, style: Style) -> tuple[str, bytes]:
    """The report as a web page and as a PDF."""
    title = f"Trial report: {analysis.plan.name}"
    blocks = blocks_of(analysis, intake, origin)
    return document.to_html(title, blocks, style), document.to_pdf(title, "Trial report", blocks, style)
