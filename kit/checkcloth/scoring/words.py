"""Old names of ``scoring/vocabulary.py`` and ``scoring/remarks.py``, until no room uses them."""

from checkcloth.scoring.remarks import FAINT as FAINT
from checkcloth.scoring.remarks import FLAT as FLAT
from checkcloth.scoring.remarks import ONE_COLOUR as ONE_COLOUR
from checkcloth.scoring.remarks import Remark as Remark
from checkcloth.scoring.remarks import plain_words as plain_words
from checkcloth.scoring.remarks import scores_seen as scores_seen
from checkcloth.scoring.vocabulary import COLUMNS as COLUMNS
from checkcloth.scoring.vocabulary import MIXING_WORDS as MIXING_WORDS
from checkcloth.scoring.vocabulary import PAIR_WORDS as PAIR_WORDS
from checkcloth.scoring.vocabulary import VISION_WORDS as VISION_WORDS
from checkcloth.scoring.vocabulary import number_of as number_of
