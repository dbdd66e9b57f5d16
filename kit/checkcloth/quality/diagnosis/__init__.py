"""Why a strike-off departs from its specification: causes, pairs of causes, and the verdict."""

from checkcloth.quality.diagnosis.choose import Cause, Evidence, explain_shift
from checkcloth.quality.diagnosis.verdict import Diagnosis, diagnose

__all__ = ["Cause", "Diagnosis", "Evidence", "diagnose", "explain_shift"]
