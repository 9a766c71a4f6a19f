"""What the owner says of a machine."""

from contextlib import closing
from fractions import Fraction

import pytest

from models.acts.answers import (
    AnswerDuties,
    AnswerFeatures,
    ForgetOwnFigure,
    SetDetail,
    SetOwnFigure,
)
from models.engines import FOR_WRITING, connect
from models.errors import RefusedCode
from models.tables.answers import DetailRow, OwnFigureRow
from models.writer import Act
from schedules.facts import OwnFigure
from schedules.units import Typed, Unit
from tests.models.acts.shed import LONG, Shed


def own(target: str, figure: str, value: int | None, *, page: str = "") -> SetOwnFigure:
    return SetOwnFigure(machine_id=1, target=target, figure=figure, value=value, page=page)


def test_features_said_changed_and_taken_back(shed: Shed):
    said = (("fuel-valve", "yes"), ("starter", "cord"))
    shed.run(AnswerFeatures(machine_id=1, answers=said))
    assert shed.machine().features == said
    shed.run(AnswerFeatures(machine_id=1, answers=(("starter", "mains"), ("fuel-valve", None))))
    assert shed.machine().features == (("starter", "mains"),)
    shed.run(AnswerFeatures(machine_id=1, answers=(("starter", "mains"), ("tank", None))))


def test_duties_said_and_taken_back(shed: Shed):
    shed.run(AnswerDuties(machine_id=1, answers=(("dust", False), ("heavy-load", True))))
    assert shed.machine().duties == {"heavy-load"}
    shed.run(AnswerDuties(machine_id=1, answers=(("heavy-load", None), ("dust", True))))
    assert shed.machine().duties == {"dust"}


def test_a_figure_of_the_manual_goes_before_the_catalogues(shed: Shed):
    typed = Typed(stored=108_000, amount=Fraction(30), unit=Unit.HOUR, text="30 h")
    act = SetOwnFigure(
        machine_id=1, target="E4-02", figure="run_seconds", value=108_000, typed=typed, page="14"
    )
    shed.run(act)
    shed.run(own("E4-02", "months", None))
    shed.run(own("L20", "low", 1_200, page="22"))
    shed.run(own("L20", "low", 1_100, page="22"))
    assert shed.machine().own_figures == (
        OwnFigure(target="E4-02", figure="run_seconds", value=108_000, page="14"),
        OwnFigure(target="E4-02", figure="months", value=None, page=""),
        OwnFigure(target="L20", figure="low", value=1_100, page="22"),
    )
    assert shed.rows(OwnFigureRow)[0].typed_text == "30 h"
    shed.run(ForgetOwnFigure(machine_id=1, target="E4-02", figure="months"))
    assert len(shed.machine().own_figures) == 2
    shed.refuses(
        ForgetOwnFigure(machine_id=1, target="E4-02", figure="months"),
        RefusedCode.NOTHING_CHANGED,
    )


def test_both_ends_of_a_limit_keep_their_order(shed: Shed):
    shed.run(own("L16", "high", 3_000))
    shed.refuses(own("L16", "low", 3_001), RefusedCode.OUT_OF_RANGE, high=3_000)
    shed.run(own("L16", "low", 3_000))
    shed.refuses(own("L16", "high", 2_999), RefusedCode.OUT_OF_RANGE, low=3_000)
    shed.run(own("L16", "high", None))


def test_the_only_figure_of_a_rule_is_not_struck_out(shed: Shed):
    number = shed.add_machine("K15", name="Hum")

    def figure(name: str, value: int | None) -> SetOwnFigure:
        return SetOwnFigure(machine_id=number, target="GN-04", figure=name, value=value)

    shed.refuses(figure("months", None), RefusedCode.RULE_NEVER, task="GN-04")
    shed.run(figure("run_seconds", 360_000))
    shed.run(figure("months", None))
    forgotten = ForgetOwnFigure(machine_id=number, target="GN-04", figure="run_seconds")
    shed.refuses(forgotten, RefusedCode.RULE_NEVER, task="GN-04")
    shed.run(ForgetOwnFigure(machine_id=number, target="GN-04", figure="months"))
    shed.run(forgotten)


def test_what_was_wrong_in_the_file_already_can_be_forgotten(shed: Shed):
    shed.run(own("E4-02", "months", 16))
    shed.run(own("E4-03", "months", 16))
    with closing(connect(shed.household.path, mode="rw", pragmas=FOR_WRITING)) as raw:
        raw.execute("UPDATE own_figure SET value = 6")
    shed.household.need_writer().run(own("E4-02", "run_seconds", 36_000), moment=shed.moment)
    for task in ("E4-02", "E4-03"):
        forgotten = ForgetOwnFigure(machine_id=1, target=task, figure="months")
        shed.run(forgotten)
    shed.refuses(own("E4-02", "months", 6), RefusedCode.RULE_ENDS_ONCE_A_YEAR)


def test_details_are_kept_under_their_code(shed: Shed):
    shed.run(SetDetail(machine_id=1, detail="oil", text="5W-30, 0.6 L\n10 mm plug"))
    shed.run(SetDetail(machine_id=1, detail="oil", text="5W-30"))
    assert [(row.detail_code, row.text) for row in shed.rows(DetailRow)] == [("oil", "5W-30")]
    shed.run(SetDetail(machine_id=1, detail="oil", text=""))
    assert shed.rows(DetailRow) == []


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (AnswerFeatures(machine_id=1, answers=()), RefusedCode.NOTHING_GIVEN),
        (AnswerFeatures(machine_id=1, answers=(("wings", "yes"),)), RefusedCode.UNKNOWN_CODE),
        (AnswerFeatures(machine_id=1, answers=(("tank", "glass"),)), RefusedCode.UNKNOWN_CODE),
        (
            AnswerFeatures(machine_id=1, answers=(("self-propelled", "yes"),)),
            RefusedCode.UNKNOWN_CODE,
        ),
        (AnswerFeatures(machine_id=7, answers=(("tank", "steel"),)), RefusedCode.NOT_THERE),
        (AnswerDuties(machine_id=1, answers=()), RefusedCode.NOTHING_GIVEN),
        (AnswerDuties(machine_id=1, answers=(("sandy-soil", True),)), RefusedCode.UNKNOWN_CODE),
        (AnswerDuties(machine_id=1, answers=(("love", True),)), RefusedCode.UNKNOWN_CODE),
        (own("E4-02", "low", 1), RefusedCode.UNKNOWN_CODE),
        (own("L20", "months", 1), RefusedCode.UNKNOWN_CODE),
        (own("L20", "high", 1), RefusedCode.UNKNOWN_CODE),
        (own("L15", "low", 1), RefusedCode.UNKNOWN_CODE),
        (own("MW-01", "months", 1), RefusedCode.UNKNOWN_CODE),
        (own("x" * 9_999, "months", 1), RefusedCode.UNKNOWN_CODE),
        (own("E4-02", "months", 0), RefusedCode.OUT_OF_RANGE),
        (own("E4-02", "run_seconds", -1), RefusedCode.OUT_OF_RANGE),
        (own("L20", "low", -1), RefusedCode.OUT_OF_RANGE),
        (own("E4-02", "months", 16, page="x" * 201), RefusedCode.TOO_LONG),
        (own("E4-02", "months", 11), RefusedCode.RULE_ENDS_ONCE_A_YEAR),
        (own("S2-02", "months", 24), RefusedCode.RULE_SKIPS_YEARS),
        (own("E4-20", "months", 12), RefusedCode.RULE_BY_FUEL),
        (own("E4-05", "first_seconds", 18_000), RefusedCode.RULE_FIRST_OF_MANY),
        (SetDetail(machine_id=1, detail="", text="x"), RefusedCode.NOTHING_GIVEN),
        (SetDetail(machine_id=1, detail="x" * 65, text="x"), RefusedCode.TOO_LONG),
        (SetDetail(machine_id=1, detail="oil", text=LONG), RefusedCode.TOO_LONG),
    ],
)
def test_answers_that_make_no_sense(standing: Shed, act: Act, code: RefusedCode):
    standing.refuses(act, code)
