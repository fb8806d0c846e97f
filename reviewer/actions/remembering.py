"""What the desk remembers of itself from one evening to the next."""

from reviewer.settings.remembering import LeftAt as LeftAt
from reviewer.settings.remembering import Remembered as Remembered
from reviewer.settings.remembering import recall as recall
from reviewer.settings.remembering import remember as remember
