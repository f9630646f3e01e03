"""Help for a screen: its keys, made from its bindings, the marks, and what the screen answers."""

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from castlenut import __version__
from castlenut.garage.garage import Garage
from castlenut.screens.page import Page
from castlenut.screens.widgets.cells import filled, plain
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.key_line import key_name
from castlenut.words.states import STAMPS
