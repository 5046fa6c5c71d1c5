"""A thousand recipes in one call against composing their texts; cost linear in recipes.

    python tests/benchmarks/bench_many.py PYTHON

PYTHON is the interpreter of a normal install without the test extra. Start-up is what one recipe
takes, and is subtracted on both sides.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, program, report_in_folder, run_in_turns

ROUNDS = 3
MANY = 1000
HALF = MANY // 2

TEMPLATE = """\
# reed-bed series, mix {number}
name: Reed bed mix {number}
eggs:
  count: 1
  grade: large
  standard: eu
base_mix:
  hookbait:
    name: Reed bed hookbait mix
    amount: {amount} g
  freebie:
    name: Reed bed bulk mix
additives:
  - name: Caraway flavour
    form: liquid
    carrier: glycol
    density: 1.04 g/ml
    hookbait: 2.{digit} ml per egg
    freebie: 4 ml per kg mix
  - name: Malt syrup
    form: liquid
    density: 1.35 g/ml
    hookbait: 4 g per egg
    freebie: 45 g per kg mix
  - name: Ground fenugreek
    form: powder
    hookbait: 3 g per egg
    freebie: 15 g per kg mix
  - name: Hemp oil
    form: oil
    hookbait: 1.5 ml per egg
    freebie: 12 ml per kg mix
  - name: Sweetener
    form: powder
    hookbait: 0.3 g per egg
    freebie: 2 g per kg mix
  - name: Butyric acid
    form: liquid
    density: 0.96 g/ml
    hookbait: 6 drop per egg
    freebie: 0.8 ml per kg mix
baits:
  hookbait: 14 mm
  freebie:
    - {{kind: bottom, size: 18 mm}}
    - {{kind: bottom, size: 22 mm, share: 30 %}}
measures: metric
notes: a mix of the thousand that the benchmark rolls
"""

COMPOSE = """
import sys
from pathlib import Path
from ruamel.yaml import YAML
for path in sorted(Path(sys.argv[1]).iterdir()):
    YAML(typ="safe", pure=True).compose(path.read_text("utf-8"))
"""


def write_recipes(folder: Path, count: int) -> str:
    """Write so many recipes, no two alike, and return the folder."""
    folder.mkdir()
    for number in range(count):
        text = TEMPLATE.format(number=number, amount=120 + number % 30, digit=number % 10)
        (folder / f"mix-{number:04}.yaml").write_text(text, encoding="utf-8")
    return str(folder)


def measure(python: str, folder: Path) -> list[Check]:
    """Run both programs over one, half of and all the recipes."""
    one, half, many = (write_recipes(folder / str(n), n) for n in (1, HALF, MANY))
    compose = [python, "-c", COMPOSE]
    batch = [program(python), "batch"]
    compose_one, compose_many, batch_one, batch_half, batch_many = (
        run.seconds
        for run in run_in_turns(
            [[*compose, one], [*compose, many], [*batch, one], [*batch, half], [*batch, many]],
            ROUNDS,
        )
    )
    work = batch_many - batch_one
    return [
        Check("batch of 1000 / compose, time", work / (compose_many - compose_one), 1.5),
        Check("batch of 1000 / of 500, time", work / (batch_half - batch_one), 2.2),
    ]


def main() -> None:
    """Measure and print."""
    report_in_folder(measure)


if __name__ == "__main__":
    main()
