"""The check of the demonstration boat, made once by the README's command for all tests that read it."""

import contextlib
import io
from typing import NamedTuple

from seaload.command_line.main import exit_code_of
from seaload.files.result_file import read_result
from tests.small_study import STUDIES

DEMO = STUDIES.parent / "boats" / "demo.toml"


class Checked(NamedTuple):
    """What the command left behind."""

    folder: object  # of the result and the page
    code: int
    printed: str
    dataset: object
    page: str


def checked_demo(folder):
    """`Checked` of `seaload boat scenarios/boats/demo.toml --out FOLDER`."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = exit_code_of(["boat", str(DEMO), "--out", str(folder)])
    made = folder / "boat-demo"
    page = (made / "boat.html").read_text(encoding="utf-8")
    return Checked(made, code, said.getvalue(), read_result(made / "result.nc"), page)
