"""Old home of names in ``scoring/contrast.py`` and ``scoring/vocabulary.py``, until unused."""

from checkcloth.scoring.contrast import PairScore as PairScore
from checkcloth.scoring.contrast import Score as Score
from checkcloth.scoring.vocabulary import MEASURES as MEASURES
