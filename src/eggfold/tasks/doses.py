"""``doses``: the dose sheet."""

from __future__ import annotations

from functools import partial

from eggfold.amounts import AmountError
from eggfold.errors import OptionError
from eggfold.formats.json import Data, data_of, document
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.load_recipe import open_companions
from eggfold.load.workspace import Findings
from eggfold.pages.doses import doses_page
from eggfold.pages.figures import units_in
from eggfold.recipe.dose_sheet import (
    DoseColumn,
    DoseRow,
    DoseSheet,
    default_columns,
    parse_columns,
    recipe_rows,
    recipe_sheet,
    register_sheet,
)
from eggfold.tasks.asked import Given, amount_error, whole_option
from eggfold.tasks.delivery import Answer, deliver, destination_of
from eggfold.tasks.run import begin, finish, gather, open_files


def run_doses(given: Given) -> int:
    """Write the dose sheet; return the exit code."""
    to, asked = destination_of(given), _columns(given["eggs"], given["columns"])
    if given["recipes"]:
        parts, findings = gather(
            open_files(given["recipes"], given), lambda o: recipe_rows(o, asked)
        )
        sheet = recipe_sheet(parts, asked)
    else:
        begin(given)
        companions, problems = open_companions([], given["additives"], given["bench"])
        if companions.register.file is None:
            raise OptionError("there is no additives.yaml here; name one with --additives")
        sheet, findings = register_sheet(companions, asked), Findings(problems)
    if given["by"] == "name":
        sheet = sheet.ordered_by_name()
    page = partial(doses_page, units=units_in(given["units"]))
    answer = Answer("doses", sheet, page, given["why"], doses_document)
    if sheet.rows or not findings.unanswered or to.form == "json":
        findings = findings.failing(deliver(to, answer))
    return finish(findings)


def _columns(eggs: str | None, columns: str | None) -> tuple[DoseColumn, ...]:
    if columns is None:
        return default_columns(whole_option("eggs", eggs, MOST_EGGS) if eggs else None)
    if eggs is not None:
        raise OptionError("--columns says all columns; leave --eggs out or add it to the list")
    try:
        return parse_columns(columns)
    except AmountError as error:
        raise amount_error("--columns", error) from error


def doses_document(sheet: DoseSheet) -> Data:
    """Return the object of ``doses``."""
    rows = [{**data_of(row), "amounts": _amounts(row)} for row in sheet.rows]
    return document("doses", sheet) | {"rows": rows}


def _amounts(row: DoseRow) -> list[Data]:
    return [
        {
            **data_of(column),
            "amount": cell.amount if cell else None,
            "unit": row.unit,
            "tool": cell.tool if cell else None,
            "over_ceiling": cell is not None and cell.over_ceiling,
        }
        for column, cell in zip(row.columns, row.cells, strict=True)
    ]
