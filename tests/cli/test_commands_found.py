"""What a user is shown who types no command, or one that is misspelt."""

import pytest

from menugen.cli.arguments import parse


def test_no_command_lists_them(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        parse([])
    assert left.value.code == 2
    assert "write each event's site and table cards" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("chekc", 'there is no command "chekc": did you mean "menugen check"?'),
        ("PUBLISH", 'there is no command "PUBLISH": did you mean "menugen publish"?'),
        ("zzzz", 'there is no command "zzzz": menugen --help lists the commands'),
    ],
)
def test_a_misspelt_command_gets_the_nearest(
    typed: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        parse([typed])
    assert left.value.code == 2
    assert said in capsys.readouterr().err
