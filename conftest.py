"""What holds for all of pytest here: the notebooks are tests too, and come in quickly."""

from __future__ import annotations

import sys

# jsonschema, which reads notebooks, would build grammars for a third of the time that collecting
# takes, to check internationalised addresses that no notebook and no test has. None is Python's
# way to say that there is no such module.
_absent = "rfc3987_syntax" not in sys.modules
if _absent:
    sys.modules["rfc3987_syntax"] = None  # type: ignore[assignment]
import nbval.plugin  # noqa: F401,E402

if _absent:
    del sys.modules["rfc3987_syntax"]

pytest_plugins = ["nbval.plugin"]
