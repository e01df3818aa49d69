"""Commands: what a cook can say, as frozen values, one module a topic.

`NAME` is the name used in JSON and in the journal, `CARD` the heading it stands under on the
card; the fields are the slots, spelled as in the command-line contract. Temperatures are
degrees Fahrenheit as recorded; `Said` keeps the number and scale spoken. Birds count from 1 at
the motor end.
"""

from assistant.cook.vocabulary.birds import *
from assistant.cook.vocabulary.dinner import *
from assistant.cook.vocabulary.fire import *
from assistant.cook.vocabulary.questions import *
from assistant.cook.vocabulary.readiness import *
from assistant.cook.vocabulary.talk import *
from assistant.cook.vocabulary.terms import *

# What a talk command does: become a fact, or not; a fact is read back.
TalkFact = (
    Acknowledge | ItemDone | Snooze | Correct | Undo | No | EndCook | Sleep | Wake
    | Quieter | Louder
)  # fmt: skip
# What may be told after it happened.
Datable = (
    BirdReading | GrillReading | BirdsOn | BirdsOff | Sauced | FuelAdded | WoodAdded | FireLit
    | LidOff | LidOn | Vents | Trouble | TroubleOver
)  # fmt: skip
Factual = BirdCommand | FireCommand | DinnerCommand | ListCommand | TalkFact
Command = ListCommand | BirdCommand | FireCommand | DinnerCommand | Question | TalkCommand
