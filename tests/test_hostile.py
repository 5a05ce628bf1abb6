"""Files made to hurt: read or refused within 5 s of the processor and 1 GB, and nothing else is opened.

Each form is read in a process of its own, with bounds that the system keeps.
"""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from fuzz.again import environment
from fuzz.hostile import FORMS


@pytest.mark.parametrize("form", FORMS)
def test_files_made_to_hurt_are_read_or_refused_in_a_sentence(form: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "fuzz.hostile", form], env=environment(), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr[-3000:]
    came = json.loads(done.stdout)
    wrong = {name: told for name, (_, told, _) in came.items() if told}
    assert not wrong, "\n".join(f"{name}:\n{told}" for name, told in wrong.items())
    assert {name: code for name, (code, _, _) in came.items()} == {
        name: code for name, (code, _) in FORMS[form].items()
    }
