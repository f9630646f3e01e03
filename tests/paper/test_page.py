"""A paper as a page: it stands alone, and nothing a record holds reaches it raw."""

from html.parser import HTMLParser

from castlenut.domain.frozen import replace
from castlenut.paper.page import page
from castlenut.paper.paper import Head, Kind, Line, Paper, Section

HEAD = Head(
    garage=("Invented Yard",),
    slug="invented-car",
    car="Invented Car",
    facts=(("owner", '<script>alert("x")</script> & \x1b[2J\u202eDun'),),
    is_ready=False,
    ready="not ready: 1 thing stands against handing it over",
    standing=("overdue: brakes",),
)
LINE = Line(number=7, what="brake pads, measure", told=("at least 3 mm",), boxes=("LF (mm)",))
PAPER = Paper(
    kind=Kind.JOB_CARD,
    head=HEAD,
    sections=(Section(title="Points", lines=(LINE,)), Section(title="Left out", lines=())),
    signatures=("done by",),
    cautions=("Chock the wheels.",),
)


class Read(HTMLParser):
    """The tags of a page with their attributes, and its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.told: list[str] = []
        self.open: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in {"meta", "path"}:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag != "path":
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.told.append(data)


def test_what_stands_against_handing_over_comes_before_all_sections() -> None:
    told = "".join(Read(page(PAPER).decode()).told)

    assert told.index("not ready: 1 thing") < told.index("overdue: brakes") < told.index("Points")
    assert "7. brake pads, measure" in told
    assert "Caution: Chock the wheels." in told
    assert "Left out" not in told


def test_every_tag_that_is_opened_is_closed() -> None:
    assert Read(page(replace(PAPER, feed="webcal://dates.invalid/a.ics")).decode()).open == []


def test_nothing_is_fetched() -> None:
    read = Read(page(replace(PAPER, feed="webcal://dates.invalid/a.ics")).decode())

    names = {name for _, attributes in read.tags for name in attributes}
    assert names.isdisjoint({"src", "href", "srcset", "data", "action", "xmlns"})
    assert {tag for tag, _ in read.tags}.isdisjoint({"script", "link", "img", "iframe", "object"})
    assert "url(" not in page(PAPER).decode()
    assert "@import" not in page(PAPER).decode()


def test_markup_and_control_characters_of_a_record_are_text() -> None:
    text = page(PAPER).decode()

    assert "<script" not in text
    assert '<script>alert("x")</script> & \\x1b[2J\\u202eDun' in "".join(Read(text).told)
    assert "\x1b" not in text
    assert "\u202e" not in text


def test_a_code_is_drawn_only_where_there_is_an_address() -> None:
    drawn = Read(page(replace(PAPER, feed="webcal://dates.invalid/a.ics")).decode())

    assert "svg" in {tag for tag, _ in drawn.tags}
    assert "svg" not in {tag for tag, _ in Read(page(PAPER).decode()).tags}


def test_the_foot_of_each_page_names_paper_and_car_whatever_the_car_is_called() -> None:
    """A second page lay on the bench and told nobody which car it was of."""
    called = replace(PAPER, head=replace(HEAD, car='Dun "Van"</style>'))

    text = page(called).decode()

    assert (
        r'@bottom-left { content: "Job\20 card\3a \20 Dun\20 \22 Van\22 \3c \2f style\3e "; '
    ) in text
    assert "counter(page)" in text


def test_the_cautions_stand_together_with_the_deferring_line() -> None:
    text = page(PAPER).decode()

    foot = text[text.index("<footer>") : text.index("</footer>")]
    assert "Chock the wheels." in foot
    assert "does not certify" in foot
    assert "footer { break-inside: avoid; }" in text


def test_a_box_of_no_point_is_wide_enough_for_words() -> None:
    free = Section(title="Found besides", lines=(Line(what="", boxes=("what, and where",)),))

    tags = Read(page(replace(PAPER, sections=(*PAPER.sections, free))).decode()).tags

    boxes = [each["class"] for tag, each in tags if tag == "p" and "class" in each]
    assert [each for each in boxes if each and each.startswith("boxes")] == ["boxes", "boxes open"]
