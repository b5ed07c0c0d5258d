"""The commands ``plan ...``: a trial that can prove something, and settings dialled in together."""

import typer

app = typer.Typer(
    help="Plan a trial that can prove something, decide it by its own rule, and dial in settings together.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


@app.command("new")
def new(
    file: str = typer.Argument("", metavar="[PLAN.toml]", help="What is said below, in a file; options go before it."),
    question: str = typer.Option("", metavar="TEXT", help="What the trial is to answer."),
    response: str = typer.Option("", metavar="DIMENSION", help="What is measured; convexity when left out."),
    worth: float | None = typer.Option(None, metavar="MM", help="Smallest difference worth knowing."),
    arms: str = typer.Option("", metavar='"A, B"', help="The two things compared."),
    kind: str = typer.Option("", metavar="KIND", help='"two arms", or "reference cylinder" for rolling a cylinder.'),
    scatter: float | None = typer.Option(None, metavar="MM", help="From bead to bead; else a planning value."),
    scatter_dof: float | None = typer.Option(None, metavar="N", help="Beads behind the scatter, less one."),
    welding: str = typer.Option("", metavar="HOW", help="mechanised or hand: which planning value is meant."),
    margin: float | None = typer.Option(None, metavar="MM", help="Differences up to this are of no consequence."),
    beads: int | None = typer.Option(None, metavar="N", help="Beads in each arm; reckoned where left out."),
    covariate: str = typer.Option(
        "", metavar="SETTING", help="Measured on every bead and taken out, such as start_temperature."
    ),
    sections: int | None = typer.Option(None, metavar="N", help="Cuts to a bead; 2 where left out."),
    warm_up: int | None = typer.Option(None, metavar="N", help="Beads to warm up; 3 where left out."),
    power: float | None = typer.Option(None, metavar="CHANCE", help="Of showing what is worth knowing; 0.8."),
    seed: int | None = typer.Option(None, metavar="N", help="Of the order."),
    secret: str = typer.Option("", metavar="TEXT", help="What codes are drawn from; drawn by chance where left out."),
    out: str = typer.Option("", metavar="DIR", help="Keep plan.json, the sealed key and the sheets there."),
    book: str = typer.Option("", metavar="FOLDER", help="A book whose own scatter is taken, where it knows it."),
) -> None:
    """Plan a trial: size by exact power, randomised order, blinding codes, locked rule, run sheet and labels."""
    typed = {key: value for key, value in locals().items() if key not in ("file", "secret", "out", "book")}
    from etchbook.usecases.planned import plan_trial, said_in, wish_from
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.plans import PlanView, fresh_secret, own_scatter_of

    said = said_in(FilesDesk().text(file)) if file else {}
    said |= {key: value for key, value in typed.items() if value not in ("", None)}
    view = PlanView(plan_trial(wish_from(said, secret or fresh_secret(), own=own_scatter_of(book))))
    kept = view.save(out) if out else ()
    print(view)
    if kept:
        print(f"kept: {', '.join(map(str, kept))}")
        print("Give the two sealed files to the helper; nobody opens them before every bead is read.")


@app.command("decide")
def decide(
    folder: str = typer.Argument(..., metavar="DIR", help="Where plan.json and the key lie."),
    results: list[str] = typer.Argument(
        ..., metavar="RESULT...", help="CODE=1.23±0.05, CODE=READING.json, or a CSV; CODE=1.23@20 with the covariate."
    ),
    key: str = typer.Option("", metavar="FILE", help="The opened key, where it lies elsewhere."),
    stopped: str = typer.Option("", metavar="WHY", help="Of an unplanned stop, written before results were seen."),
) -> None:
    """Decide a planned trial by the rule that was locked before it."""
    from pathlib import Path

    from etchbook.usecases.planned import covariate_of, decided, decision_lines, response_of
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.trialpages import KEY_NAME, results_from

    desk = FilesDesk()
    document = desk.text(str(Path(folder) / "plan.json"))
    opened = desk.text(key or str(Path(folder) / KEY_NAME))
    values, beside = results_from(results, response_of(document), covariate_of(document))
    made, found = decided(document, opened, values, covariate=beside, stopped=stopped)
    for line in decision_lines(made, found):
        print(line)


@app.command("size")
def size(
    scatter: float | None = typer.Option(
        None, metavar="MM", help="From bead to bead; else the book's own, else planned."
    ),
    response: str = typer.Option("convexity", metavar="DIMENSION", help="What is measured."),
    welding: str = typer.Option("", metavar="HOW", help="mechanised or hand: which planning value is meant."),
    worth: list[float] = typer.Option([0.2, 0.3, 0.5], metavar="MM", help="Smallest difference worth knowing."),
    power: float = typer.Option(0.8, metavar="CHANCE", help="Of showing it."),
    book: str = typer.Option("", metavar="FOLDER", help="A book whose own scatter is taken, where it knows it."),
) -> None:
    """Say how many beads show a difference, by exact power, and what a number of beads can show."""
    from etchbook.cli import show
    from etchbook.usecases.planned import size_rows
    from etchbook.usecases.scatters import scatter_of
    from etchbook.wiring.plans import own_scatter_of

    known = scatter_of(response, scatter, welding=welding, own=own_scatter_of(book))
    low, high = known.limits()
    rows = size_rows(known.sd, worth, power)
    print(
        f"scatter of {response}: {known.sd:.3g} from {known.source}; the true one lies between {low:.2g} and {high:.2g}"
    )
    show.table(("difference", "beads in each of two arms", "blocks of one each", "reference plan, blocks a phase",
                "to show none so large"), rows)  # fmt: skip


@app.command("scatter")
def scatter_of_book(
    book: str = typer.Option("", metavar="FOLDER", help="A book; planning values alone where left out."),
    welding: str = typer.Option("", metavar="HOW", help="mechanised or hand: which planning values are meant."),
) -> None:
    """List how much beads welded alike scatter, dimension by dimension: the book's own, else planning values."""
    from etchbook.cli import show
    from etchbook.usecases.scatters import scatter_rows
    from etchbook.wiring.plans import own_scatter_of

    rows = scatter_rows(own_scatter_of(book), welding)
    show.table(("dimension", "scatter", "95 %", "degrees of freedom", "from", "id"), rows)
    print("note: the book's own counts from four degrees of freedom on (like beads less groups of like beads)")


TURN = typer.Option(..., metavar="SETTING=LOW..HIGH", help="A setting to turn, such as volts=17..20; two to five.")
RESPONSE = typer.Option("convexity", metavar="NAME", help="What is measured: the name of its column.")


@app.command("settings")
def settings(
    turn: list[str] = TURN,
    kind: str = typer.Option("surface", help='"two levels", "half", "surface" or "surface in few beads".'),
    response: str = RESPONSE,
    centres: int = typer.Option(3, metavar="N", help="Beads in the middle, which show scatter and bending."),
    seed: int = typer.Option(0, metavar="N", help="Of the order."),
    out: str = typer.Option("", metavar="OUT.csv", help="Keep the table there; printed where left out."),
) -> None:
    """List the beads for dialling in several settings together, in randomised order."""
    from etchbook.usecases.dialling import factor_from, run_list
    from etchbook.wiring.desk import FilesDesk

    table = run_list([factor_from(text) for text in turn], kind, response, centres=centres, seed=seed)
    if not out:
        print(table, end="")
        return
    FilesDesk().keep({out: table.encode()})
    print(f"kept: {out}; weld {table.count(chr(10)) - 1} beads in this order and fill in {response}")


@app.command("fit")
def fit(
    table: str = typer.Argument(
        ..., metavar="BEADS.csv", help="The table of `plan settings` with its last column filled."
    ),
    turn: list[str] = TURN,
    response: str = RESPONSE,
    target: float | None = typer.Option(None, metavar="VALUE", help="What is wanted; names the next setting to try."),
    tolerance: float = typer.Option(0.1, metavar="D", help="How far off the target it may be."),
    unit: str = typer.Option("mm", help="Of the response."),
    svg: str = typer.Option("", metavar="OUT.svg", help="Keep contour lines over the first two settings."),
) -> None:
    """Fit what the beads of `plan settings` gave: effects with their uncertainty, and the next setting to try."""
    from etchbook.usecases.dialling import dialled, factor_from, told
    from etchbook.wiring.desk import FilesDesk
    from etchbook.wiring.trialpages import contour_page

    desk = FilesDesk()
    factors = [factor_from(text) for text in turn]
    found = dialled(desk.text(table), factors, response, target=target, tolerance=tolerance, unit=unit)
    for line in told(found, target, tolerance):
        print(line)
    if svg:
        desk.keep({svg: contour_page(found, response)})
        print(f"kept: {svg}")


@app.command("study")
def study(
    table: str = typer.Argument(..., metavar="TABLE.csv", help="Columns section, person, value; a line a reading."),
    worth: float | None = typer.Option(None, metavar="MM", help="The difference that is sought."),
    unit: str = typer.Option("mm", help="Of the values."),
) -> None:
    """Say how well sections are read: repeatability, and from person to person, by analysis of variance."""
    from etchbook.usecases.rereading import lines, study_from
    from etchbook.wiring.desk import FilesDesk

    for line in lines(study_from(FilesDesk().text(table)), worth, unit):
        print(line)
