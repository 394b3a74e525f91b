"""The report of a trial: what differs from the plan, what was found, and the page of what may be said."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.sheets.paper import Style
from waterleaf.trial import document, figures
from waterleaf.trial.analysis import Analysis, Pair
from waterleaf.trial.checks import look
from waterleaf.trial.document import Block
from waterleaf.trial.intake import Finding, Intake
from waterleaf.trial.model import Line
from waterleaf.trial.plan import Plan
from waterleaf.trial.planning import amount, named_test
from waterleaf.trial.statement import interval_name, make_statement
from waterleaf.working.steps import work
from waterleaf.working.units import written

_SHOWN: Final = 12


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a report comes from: what differs from the frozen plan, its fingerprint and date, the table's name."""

    changes: tuple[str, ...]
    fingerprint: str
    frozen_on: str
    data_file: str

    @property
    def margin_stands(self) -> bool:
        """Whether margin and error rate were fixed in a plan that was frozen and not touched since."""
        return bool(self.frozen_on) and not any("itself was changed" in change for change in self.changes)


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
    rows = [[line.source, str(line.freedom), f"{line.squares:.4g}", *_ratio(line)] for line in analysis.fit.table]
    named = f"Test named in the plan: {named_test(plan)}. {analysis.main_text}, {said_p(analysis.main_p)}."
    found = [
        document.text(named),
        document.table(
            f"Analysis of variance of the {plan.unit} means",
            ["source", "degrees of freedom", "squares", "mean square", "F", "p"],
            rows,
        ),
        _pair_table(analysis),
    ]
    if plan.test == "welch":
        found[1]["caption"] += " (for comparison; the plan named Welch's test)"
    return found


def probability(p: float) -> str:
    """A p value as printed."""
    return "< 0.0001" if p < 0.0001 else f"{p:.4f}"


def said_p(p: float) -> str:
    """A p value in a sentence."""
    return f"p {probability(p)}" if p < 0.0001 else f"p = {probability(p)}"


def _ratio(line: Line) -> list[str]:
    square = f"{line.mean_square:.4g}" if line.freedom and line.source != "total" else ""
    if line.f_ratio is None or line.p is None:
        return [square, "", ""]
    return [square, f"{line.f_ratio:.4g}", probability(line.p)]


def _pair_table(analysis: Analysis) -> Block:
    plan = analysis.plan
    rows = [
        [
            f"{pair.first} - {pair.second}",
            f"{pair.difference:.3g}",
            f"{pair.low:.3g} to {pair.high:.3g}",
            probability(pair.p),
            probability(pair.adjusted),
            f"{pair.effect:.2f}",
            probability(pair.alike_p),
        ]
        for pair in analysis.pairs
    ]
    shared = f", shared by {plan.adjust.capitalize()}'s method" if len(rows) > 1 else ""
    unit = f" ({written(plan.response.unit)})" if plan.response.unit else ""
    return document.table(
        f"Differences{unit}; {interval_name(plan)}{shared}; effect in standard deviations of unit means; alike: p of "
        f"equivalence within {amount(plan.smallest_difference, plan)}",
        ["pair", "difference", "interval", "p alone", "p shared", "effect", "p alike"],
        rows,
    )


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
    made += _about_subsamples(analysis)
    if analysis.pairs:
        made += _worked(max(analysis.pairs, key=lambda pair: abs(pair.difference)), plan)
    means = [
        [m.unit.code, m.unit.place, m.unit.method, str(len(m.readings)), f"{m.value:.4g}"] for m in analysis.unit_means
    ]
    made.append(document.heading("Every unit"))
    made.append(document.table("", ["code", "place", "method", "readings", "mean"], means))
    return made + _findings(intake.findings)


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


def _findings(findings: Sequence[Finding]) -> list[Block]:
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
