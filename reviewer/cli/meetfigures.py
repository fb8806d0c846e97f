"""``reviewer meet figures`` and ``meet report``: what the audited routines say of a meet."""

from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option, language_option
from reviewer.terms.problems import DONE


def _scored_by(command: Callable[..., Any]) -> Callable[..., Any]:
    """Who scores the routines again."""
    for option in (
        click.option("--cluster-keys", type=FILE, help="Folder with ca.pem, cert.pem and key.pem for TLS."),
        click.option(
            "--cluster",
            metavar="ADDRESS",
            help="Score on a Dask cluster, such as tls://10.0.0.7:8786; marks and figures travel, no picture "
            "and no name.",
        ),
        click.option(
            "--processes",
            type=click.IntRange(1, 64),
            default=2,
            show_default=True,
            help="On this machine, where there are many.",
        ),
    ):
        command = option(command)
    return command


@click.command(epilog="Example: reviewer meet figures autumn")
@click.argument("meet", type=FILE)
@_scored_by
@json_option
def figures(meet: Path, processes: int, cluster: str | None, cluster_keys: Path | None, as_json: bool) -> int:
    """What the audited routines of MEET say: shares, differences, clauses, judges, each with its interval.

    The lot that was drawn first speaks for the meet. Judges stand in the order of their letters.
    """
    with _workers(processes, cluster, cluster_keys) as (workers, many):
        found = actions.meet_figures(meet, workers, many=many)
    if as_json:
        say.document(found)
    else:
        for line in _told(found):
            click.echo(line)
    return DONE


def _told(found: dict[str, Any]) -> Iterator[str]:
    meet, lot = found["meet"], found["lot"]
    yield f"{meet['audited']} of {meet['routines']} routines audited."
    if lot is None:
        yield "No routine was drawn by lot, so nothing here speaks of the meet as a whole."
    else:
        yield f"{lot['number']} drawn by lot, seed {lot['seed']}, speak for the meet."
        yield from lot["remarks"]
    if found["unsettled"]:
        names = ", ".join(f"{one['start']} ({one['auditor']})" for one in found["unsettled"])
        yield (
            f"Audited by two auditors and not settled yet: {names}. Until then the sheet of the auditor "
            "named here counts, by lot."
        )
    for title, figures in (("The meet, by the lot", found["by_lot"]), ("Not drawn by lot", found["others"])):
        if figures is not None:
            yield ""
            yield f"{title}: {figures['audited']} routines audited of {figures['of']}"
            yield from _figures(figures)
    for one in found["problems"]:
        yield f"Left out: {one['where']}: {one['message']} {one['remedy']}"


def _figures(figures: dict[str, Any]) -> Iterator[str]:
    judges = (
        figures["judges"] if figures["by_lot"] else ()
    )  # of what was chosen for a reason nothing of people
    final, seen, start = (figures[name] for name in ("final", "final_at_full_speed", "start"))
    for name, led in (
        ("wrong start value, share", figures["wrong_start"]),
        ("posted score not allowed by the marks, share", figures["unreachable"]),
        ("posted less audited final score, mean", final["mean"]),
        ("the same, spread", final["spread"]),
        ("posted less what was seen at full speed, mean", seen["mean"]),
        ("posted less audited start value, mean", start["mean"]),
        *(
            (f"clause {one['clause']} misapplied, share at most", one["possible"])
            for one in figures["clauses"]
        ),
        *((f"judge {one['judge']} less the audit, mean", one["audited"]["mean"]) for one in judges),
        *((f"judge {one['judge']}, spread", one["audited"]["spread"]) for one in judges),
    ):
        yield f"  {name}: {_figure(led, figures['by_lot'])}"
    yield from figures["remarks"]
    yield from dict.fromkeys(one["says"] for one in judges if not one["enough"])
    if judges:
        yield from figures["cautions"]


def _figure(led: dict[str, Any], by_lot: bool) -> str:
    if led["value"] is None:
        return led["why"] or "not defined"
    if not by_lot:
        return str(led["value"])
    if led["interval95"] is None:
        return f"{led['value']} ({led['why']})"
    return f"{led['value']} ({' to '.join(led['interval95'])}; {led['number']} routines)"


@click.command(epilog="Example: reviewer meet report autumn -o autumn-report")
@click.argument("meet", type=FILE)
@click.option("-o", "folder", type=FILE, required=True, help="Folder to write into.")
@language_option
@_scored_by
@json_option
def report(
    meet: Path,
    folder: Path,
    language: str,
    processes: int,
    cluster: str | None,
    cluster_keys: Path | None,
    as_json: bool,
) -> int:
    """Write report.html, report.pdf and report.json of MEET: the same bytes every time."""
    with _workers(processes, cluster, cluster_keys) as (workers, many):
        found = actions.write_meet_report(meet, folder, language=language, workers=workers, many=many)
    say.document(found) if as_json else click.echo(f"Report in {folder}")
    return DONE


@contextmanager
def _workers(processes: int, address: str | None, keys: Path | None) -> Iterator[tuple[Executor, int]]:
    """The executor, and from how many routines on it is worth its start; a cluster that is named is used."""
    if address is None:
        if keys is not None:
            raise click.UsageError("--cluster-keys go with --cluster.")
        with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as workers:
            yield workers, actions.MANY_ROUTINES
        return
    from reviewer.cli.clusters import cluster

    with cluster(address, keys) as workers:
        yield workers, 1
