"""The report of a tasting: what differs from the plan, what may be said, and every test with its numbers."""

from collections.abc import Sequence

from waterleaf.sheets.paper import Style
from waterleaf.trial import document, tasting_figures
from waterleaf.trial.answers import Answers
from waterleaf.trial.document import Block
from waterleaf.trial.origin import Origin
from waterleaf.trial.panel import TITLES
from waterleaf.trial.report import found_in_table, probability, said_p
from waterleaf.trial.tasting import Choice, Liked, Part, Ranked, Tasting
from waterleaf.trial.tasting_statement import make_tasting_statement

_MINUS = "−"


def tasting_blocks(tasting: Tasting, answers: Answers, origin: Origin) -> list[Block]:
    """The report as blocks: what differs and what may be said first, then a section for every test."""
    plan, panel = tasting.plan, tasting.panel
    made: list[Block] = [document.text(plan.question)]
    if answers.invented:
        made.append(document.text("A rehearsal: every answer below is invented."))
    deviations = [*origin.changes, *_from_table(answers)]
    if deviations:
        made.append(document.box("What differs from the frozen plan", deviations))
    frozen = f"frozen on {origin.frozen_on}, " if origin.frozen_on else ""
    made.append(document.text(
        f"Tasting of {plan.crop}, {plan.variety}; products {', '.join(panel.products)}; {panel.assessors} assessors "
        f"invited. Plan {plan.name}, {frozen}fingerprint {origin.fingerprint}; answers {origin.data_file}."
    ))  # fmt: skip
    statement = make_tasting_statement(tasting)
    for title, lines in (
        ("What may be said", statement.may), ("What may not be said", statement.may_not),
        ("What this panel could find, and what a further one would need", statement.further),
    ):  # fmt: skip
        made += [document.heading(title), document.items(lines)]
    made.append(document.page_break())
    for part in tasting.parts:
        made += [document.heading(TITLES[part.test]), *_section(part, plan.significance)]
    return made + found_in_table(answers.findings)


def _from_table(answers: Answers) -> list[str]:
    said = [finding.message for finding in answers.findings if finding.kind == "missing"]
    if answers.count("held"):
        said.append(f"Held back until a person decides, and listed at the end: {answers.count('held')} findings.")
    return said


def _section(part: Part, significance: float) -> list[Block]:
    if part.p is None:
        return [document.text("Too few usable answers: nothing was tested.")]
    if isinstance(part, Choice):
        return _choice(part, part.p, significance)
    return _ranking(part, part.p) if isinstance(part, Ranked) else _liking(part, part.p)


def _choice(part: Choice, p: float, significance: float) -> list[Block]:
    least = "no number would do" if part.needed is None else str(part.needed)
    interval = f"{100 - significance:g} % interval, exact"
    rows = [["usable answers", str(part.answered)]]
    if part.test == "preference":
        rows += [[f"chose {part.products[0]}", str(part.right)],
                 [f"chose {part.products[1]}", str(part.answered - part.right)],
                 ["agreement that counts as a finding", least],
                 ["p, exact, two-sided", probability(p)]]  # fmt: skip
    else:
        rows += [["right answers", str(part.right)], ["right answers that count as a finding", least],
                 ["p, exact, one-sided", probability(p)]]  # fmt: skip
    if part.share is not None:
        found, low, high = part.share
        name = f"share who chose {part.products[0]}" if part.test == "preference" else "share who truly tell them apart"
        below = " (worse than guessing)" if found < 0 else ""
        rows.append([f"{name}; {interval}", f"{max(0.0, found):.0f} %{below}; {low:.0f} to {high:.0f} %"])
    if part.similar is not None:
        most = "no number would do" if part.similar.most is None else str(part.similar.most)
        rows.append([f"most right answers that show the two alike within {part.similar.within:g} %", most])
    caption = "Dark bars: numbers that count as a finding. Guessing alone gets there in few panels, but not in none."
    return [
        document.table("", ["what", "found"], rows),
        document.figure(tasting_figures.choice_figure(part), tasting_figures.choice_alternative(part), caption),
    ]


def _ranking(part: Ranked, p: float) -> list[Block]:
    best = sorted(zip(part.products, part.sums, strict=True), key=lambda one: one[1])
    rows = [[product, f"{total:g}", f"{total / part.people:.2f}"] for product, total in best]
    made: list[Block] = [
        document.text(f"{part.people} whole rankings. {part.text}, {said_p(p)}."),
        document.table("Rank sums, the one liked best first", ["product", "rank sum", "mean place"], rows),
    ]
    if part.single is not None and part.among_all is not None and part.agreement is not None:
        made.append(document.table(
            "Differences of rank sums", ["pair", "difference", "counts among all pairs"],
            [[f"{pair.first} {_MINUS} {pair.second}", f"{pair.difference:g}".replace("-", _MINUS),
              "yes" if pair.found else "no"] for pair in part.pairs],
        ))  # fmt: skip
        rough = part.people < 10 and "chi-square" in part.text.split(";")[-1]
        few = " Chi-square is rough for fewer than ten people." if rough else ""
        made.append(document.text(
            f"Two rank sums must differ by {part.among_all:.1f} to count when all pairs are compared. The least "
            f"significant difference, {part.single:.1f}, holds only for one pair that was named before the tasting. "
            f"Agreement among the people (Kendall's W, 0 none, 1 full): {part.agreement:.2f}.{few}"
        ))  # fmt: skip
    return made


def _liking(part: Liked, p: float) -> list[Block]:
    fitted = part.fit
    assert fitted is not None
    means = [
        [name, str(len(marks)), f"{mean:.2f}", _spread(marks)]
        for name, mean, marks in zip(
            fitted.methods, fitted.means, [part.marks[part.products.index(n)] for n in fitted.methods], strict=True
        )
    ]
    pairs = [
        [f"{pair.first} {_MINUS} {pair.second}", f"{pair.difference:.2f}".replace("-", _MINUS),
         f"{pair.low:.2f} to {pair.high:.2f}".replace("-", _MINUS), probability(pair.adjusted), f"{pair.effect:.2f}"]
        for pair in part.pairs
    ]  # fmt: skip
    line = fitted.table[0]
    shared = ", all pairs together by Tukey's method" if len(pairs) > 1 else ""
    beside = "" if part.rank_p is None else f", {said_p(part.rank_p)}"
    agree = "The two agree." if part.agree else "The two do not agree: the marks are too rough to lean on either."
    return [
        document.text(
            f"{part.people} people, each a block: a person's own level drops out. F = {line.f_ratio or 0:.4g} on "
            f"{line.freedom} and {fitted.error_freedom} degrees of freedom, {said_p(p)}."
        ),
        document.table("Marks, 9 like extremely to 1 dislike extremely; means adjusted for who marked what",
                       ["product", "people", "mean", "lowest to highest"], means),
        document.table(f"Differences in points; {100 - part.significance:g} % interval{shared}; effect in standard "
                       "deviations of marks within a person", ["pair", "difference", "interval", "p", "effect"], pairs),
        document.text(
            f"Marks are steps, not lengths, so ranks stand beside them: {part.rank_text}, {part.complete} people"
            f"{beside}. {agree}"
        ),
        document.figure(tasting_figures.liking_figure(part), tasting_figures.liking_alternative(part),
                        "Discs: marks, larger where more people gave them. Diamonds: means with 95 % intervals."),
    ]  # fmt: skip


def _spread(marks: Sequence[int]) -> str:
    return f"{min(marks)} to {max(marks)}"


def write_tasting_report(tasting: Tasting, answers: Answers, origin: Origin, style: Style) -> tuple[str, bytes]:
    """The report as a web page and as a PDF."""
    title = f"Tasting report: {tasting.plan.name}"
    blocks = tasting_blocks(tasting, answers, origin)
    return document.to_html(title, blocks, style), document.to_pdf(title, "Tasting report", blocks, style)
