"""Nothing in; the drawing library as it was installed, out.

It would run a file of the home folder or of the current one, and take settings from the
environment: the same sheet would then have other bytes on another desk. Imported before it.
"""

from __future__ import annotations

import os
import sys
from types import ModuleType

_RUN_UNASKED = ("reportlab_mods", "reportlab_settings")
_IN_THE_ENVIRONMENT = "RL_"

for _name in _RUN_UNASKED:
    sys.modules.setdefault(_name, ModuleType(_name))
_set_aside = {
    name: os.environ.pop(name) for name in [*os.environ] if name.startswith(_IN_THE_ENVIRONMENT)
}

os.environ.update(_set_aside)
