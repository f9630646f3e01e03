"""The page of sources says what the tests check."""

import subprocess
import sys
from pathlib import Path


def test_docs_sources_lists_every_published_check() -> None:
    script = Path(__file__).with_name("sources.py")

    checked = subprocess.run([sys.executable, str(script), "--check"], check=False)

    assert checked.returncode == 0, "run: python tests/published/sources.py"
