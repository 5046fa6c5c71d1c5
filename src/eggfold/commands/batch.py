"""``eggfold batch``: the card."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import asked_of, page_options, sized_recipes, stock_of

if TYPE_CHECKING:
    from eggfold.files.workspace import Workspace
    from eggfold.jobs.batch import Batch


@click.command()
@sized_recipes
@page_options
def batch(
    recipes: tuple[str, ...], additives: str | None, form: str, why: bool, **given: Any
) -> int:
    """Turn a trial into a batch: doses, powder, baits, boil, shopping.

    \b
    eggfold batch recipes/osierfen-caraway.yaml
    eggfold batch recipes/osierfen-caraway.yaml --as freebie --eggs 6
    eggfold batch recipes --as freebie --bait 10kg --format json
    """
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415

    asked = asked_of(given)
    workspace = open_workspace(recipes, additives, given, stocked=True)
    asked = need_strength(workspace, asked)
    batches = answers(workspace, asked.strength, lambda opened: build_batch(opened, asked))
    if form == "json":
        _json(batches, workspace, given["day"])
    else:
        _cards(list(batches), workspace, given["day"], why=why)
    return finish(workspace)


def _json(batches: Iterator[Batch], workspace: Workspace, day: str | None) -> None:
    from eggfold.formats.json import (  # noqa: PLC0415
        batch_data,
        batch_document,
        cost_data,
        dumps,
    )
    from eggfold.jobs.cost import build_cost, used_of  # noqa: PLC0415
    from eggfold.jobs.shopping import Shopping, listed  # noqa: PLC0415

    shopping = Shopping()
    answered = []
    used = []
    for one in batches:
        shopping.add(one)
        used.append(used_of(one))
        answered.append(batch_data(one))
    by_need = shopping.by_need(stock_of(workspace, day))
    costs = [cost_data(build_cost(one, by_need)) for one in used]
    priced = [one | {"cost": cost} for one, cost in zip(answered, costs, strict=True)]
    click.echo(dumps(batch_document(priced, listed(by_need))))


def _cards(batches: list[Batch], workspace: Workspace, day: str | None, *, why: bool) -> None:
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.cost import build_cost, used_of  # noqa: PLC0415
    from eggfold.jobs.shopping import Shopping, listed  # noqa: PLC0415
    from eggfold.pages.card import card_page  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    shopping = Shopping()
    for one in batches:
        shopping.add(one)
    by_need = shopping.by_need(stock_of(workspace, day))
    items = listed(by_need)
    alone = items if len(batches) == 1 else None
    for i, one in enumerate(batches):
        cost = build_cost(used_of(one), by_need)
        page = card_page(one, alone, cost, why=why)
        click.echo(("\n" if i else "") + page_text(page), nl=False)
    if len(batches) > 1:
        click.echo("\n" + page_text(shopping_page(items, len(batches))), nl=False)
