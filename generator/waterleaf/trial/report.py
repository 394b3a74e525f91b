"""The report of a trial: what differs from the plan, what was found, and the page of what may be said."""

import math
from collections.abc import Sequence
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar import t_quantile
from waterleaf.sheets.paper import Style
from waterleaf.trial import document, figures
from waterleaf.trial.analysis import Analysis
from waterleaf.trial.checks import look
from waterleaf.trial.document import Block
from waterleaf.trial.intake import Finding, Intake
from waterleaf.trial.model import Line
from waterleaf.trial.origin import Origin
from waterleaf.trial.pairs import Pair, places
from waterleaf.trial.plan import Plan
from waterleaf.trial.planning import amount, named_test, plain
from waterleaf.trial.statement import interval_name, make_statement
from waterleaf.working.steps import work
from waterleaf.working.units import written

_SHOWN: Final = 12


def blocks_of(analysis: Analysis, intake: Intake, origin: Origin) -> list[Block]:
    """The report as blocks: findings on the first page, the statement at the head of the second, details after it."""
    plan = analysis.plan
    deviations = [*origin.changes, *_from_data(intake), *analysis.notes]
    made: list[Block] = [document.text(plan.question)]
    if intake.invented:
        made.append(document.text("A rehearsal: every reading below is invented."))
    if deviations:
        made.append(document.box("What differs from the frozen plan", deviations))
    made += [document.text(_what_was_done(plan, origin)), *_figure(analysis), *_main_result(analysis)]
    made += [document.page_break(), *_statement_page(analysis, origin)]
    made += _details(analysis, intake)
    return made


def _from_data(intake: Intake) -> list[str]:
    said = []
    if len(intake.readings) < intake.expected:
        said.append(f"{len(intake.readings)} of {intake.expected} planned readings could be used.")
    if intake.count("held"):
        said.append(f"Held back until a person decides, and listed at the end: {intake.count('held')} of the rows.")
    return said


def _what_was_done(plan: Plan, origin: Origin) -> str:
    frozen = f"frozen on {origin.frozen_on}, " if origin.frozen_on else ""
    return (
        f"{plan.crop}, {plan.variety}; {len(plan.methods)} methods, {plan.units_each} {plan.unit}s of each, "
        f"{plan.readings} readings a {plan.unit}. Plan {plan.name}, {frozen}fingerprint {origin.fingerprint}; data "
        f"{origin.data_file}."
    )


def _figure(analysis: Analysis) -> list[Block]:
    plan = analysis.plan
    interval = ", with their 95 % intervals" if analysis.tested else ""
    lines = "; lines join the units of one block" if any(mean.unit.block for mean in analysis.unit_means) else ""
    caption = f"Dots: every reading. Rings: means of one {plan.unit}. Diamonds: means of methods{interval}{lines}."
    return [document.figure(figures.readings_figure(analysis), figures.readings_alternative(analysis), caption)]


def _main_result(analysis: Analysis) -> list[Block]:
    plan = analysis.plan
    if analysis.fit is None or not analysis.tested or analysis.main_p is None:
        return [document.text("Nothing was tested: the trial has no error to test against.")]
    rows = [[line.source, str(line.freedom), plain(line.squares, 4), *_ratio(line)] for line in analysis.fit.table]
    fallen_back = plan.test == "mixed" and not analysis.mixed_leads
    named = f"Test named in the plan: {named_test(plan)}{'; unit means in its place' if fallen_back else ''}."
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
        found[2]["caption"] += f" (for comparison; the plan named {named_test(plan)})"
    return found


def _mean_table(analysis: Analysis) -> Block:
    """Mean of every method with its own interval of 95 %."""
    plan, fitted = analysis.plan, analysis.fit
    assert fitted is not None
    rows = []
    for method, mean, variance in zip(fitted.methods, fitted.means, fitted.covariance.diagonal(), strict=True):
        own = [one for one in analysis.unit_means if one.unit.method == method]
        half = t_quantile(0.975, fitted.error_freedom) * math.sqrt(max(0.0, float(variance)))
        readings = sum(len(one.readings) for one in own)
        ends = f"{plain(mean - half, 3)} to {plain(mean + half, 3)}"
        rows.append([method, str(len(own)), str(readings), plain(mean, 3), ends])
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


def _pair_table(analysis: Analysis) -> Block:
    plan = analysis.plan
    alike = plan.aim == "equivalence"
    rows = [
        [
            f"{pair.first} − {pair.second}",
            plain(pair.difference, 3),
            f"{plain(pair.low, 3)} to {plain(pair.high, 3)}" if math.isfinite(pair.low) else "too few units",
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
    made: list[Block] = [document.heading("Was the test entitled to its assumptions")]
    checks = look(analysis)
    if checks:
        rows = [[check.title, check.result] for check in checks]
        made += [document.table("", ["assumption", "found"], rows), document.items([c.meaning for c in checks])]
        fitted = "What the model leaves over, one ring a unit. A fan or a bow would be a warning."
        made.append(document.figure(figures.residual_figure(analysis), f"Residuals of {plan.name}.", fitted))
    else:
        made.append(document.text("Nothing was tested, so nothing was assumed."))
    made += [*_about_subsamples(analysis), *_about_mixed(analysis)]
    if analysis.pairs and plan.test != "ranks":
        made += _worked(max(analysis.pairs, key=lambda pair: abs(pair.difference)), plan)
    means = [
        [m.unit.code, m.unit.place, m.unit.method, plain(m.value, 4), _every(m.readings)] for m in analysis.unit_means
    ]
    made.append(document.heading("Every unit and every reading"))
    made.append(document.table("", ["code", "place", "method", "mean", "readings used"], means))
    return made + found_in_table(intake.findings)


def _about_subsamples(analysis: Analysis) -> list[Block]:
    if analysis.wrong_unit is None or analysis.wrong_unit.p is None:
        return []
    plan = analysis.plan
    plants = sum(len(mean.readings) for mean in analysis.unit_means)
    said = (
        f"The {plants} plants are subsamples: the test used one mean a "
        f"{plan.unit}. Had every plant been taken for a unit, the same test would have printed "
        f"{said_p(analysis.wrong_unit.p)}. That number is wrong; it stands here to show what the wrong unit does."
    )
    if analysis.likeness is not None:
        said += f" Likeness of plants of one {plan.unit} (intraclass correlation): {analysis.likeness:.2f}."
    return [document.heading("Units and subsamples"), document.text(said)]


def _every(readings: Sequence[float]) -> str:
    return ", ".join(plain(value, 4) for value in readings)


def _about_mixed(analysis: Analysis) -> list[Block]:
    """The mixed model beside unit means: where they part, and which of them leads."""
    found, fitted, plan = analysis.mixed, analysis.fit, analysis.plan
    if found is None or fitted is None:
        return []
    rows = []
    for (one, two), (first, second, gap, error, _) in zip(places(len(found.methods)), found.pairs(), strict=True):
        values = (*fitted.difference(one, two), gap, error)
        rows.append([f"{first} − {second}", *(plain(value, 4) for value in values)])
    spread = (
        f"The mixed model puts the standard deviation between {plan.unit}s of one method at "
        f"{amount(math.sqrt(found.between), plan)} and that of plants within one {plan.unit} at "
        f"{amount(math.sqrt(found.within), plan)}. Its main test: F = {found.ratio:.4g} on {len(found.methods) - 1} "
        f"and {found.freedom} degrees of freedom, {said_p(found.p)}; the degrees of freedom are those of the "
        f"{plan.unit}s."
    )
    return [
        document.heading("Unit means and the mixed model"),
        document.text(spread),
        document.table(
            "Differences and their standard errors, two ways",
            ["pair", "unit means", "error", "mixed model", "error"],
            rows,
        ),
        document.text(_which_leads(analysis, found.trouble)),
    ]


def _which_leads(analysis: Analysis, trouble: str) -> str:
    if analysis.mixed_leads:
        return (
            "The mixed model leads, as the plan named it: it gives more weight to a unit with more readings. Unit "
            "means are the plain check."
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
    first = (
        f"{pair.first} less {pair.second}, taken alone at 95 %: difference {amount(pair.difference, plan)}, standard "
        f"error {amount(pair.error, plan)}, {pair.freedom:.3g} degrees of freedom."
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
