"""menugen drink as a user types it: changes, aims, working, and what is wrong use."""

import json
import re
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.reading import STOCK, DiskFiles, read_house, stated
from tests.houses import SOUR, texts


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    files = texts()
    files["specs/marsh-sour.md"] = SOUR.lstrip("\n").replace("garnish:", "family: sour\ngarnish:")
    for name, text in files.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> str:
    assert main(["drink", "marsh-sour", *arguments]) == code
    printed = capsys.readouterr()
    assert "\x1b" not in printed.out
    assert "--json" in arguments or max(map(len, printed.out.splitlines()), default=0) <= 80
    return printed.out if code == 0 else printed.err


def test_the_page_has_taste_family_glass_and_energy(house, capsys):
    text = told(capsys)
    for label in (
        "Served",
        "Menu says",
        "Glass",
        "Sugar",
        "Acid",
        "Sweet to sour",
        "Beside others",
        "Energy",
    ):
        assert f"\n{label}" in text, label
    assert 'in the family "sour"' in text
    assert "stay in the tin" in text
    assert "of it foam" in text
    assert "usual values" in text


def test_what_labels_say_beside_what_it_contains_has_lines_of_its_own(house, capsys):
    stock = house / "stock/all.yaml"
    text = stock.read_text("utf-8").replace(
        "  distilled from: [wheat]\n  contains: none\n",
        "  distilled from: [wheat, maize]\n  contains: [mango]\n  fined with: [bentonite]\n",
    )
    stock.write_text(text, encoding="utf-8")
    page = told(capsys)
    assert "\nContains      eggs\n" in page
    assert "\nAlso named    mango" in page
    assert "garden gin is distilled from wheat, maize" in page.replace("\n              ", " ")
    assert "garden gin is fined with bentonite" in page.replace("\n              ", " ")
    (house / "house.yaml").write_text("name: The Test Bar\nregion: US\n", encoding="utf-8")
    assert "\nDistilled     from wheat, maize\n" in told(capsys)
    data = json.loads(told(capsys, "--json"))
    serve = json.dumps(data)
    assert '"distilled_from": ["wheat", "maize"]' in serve
    assert '"also_named": ["mango"]' in serve


@pytest.mark.parametrize(
    ("region", "age", "price"),
    [
        ("GB-SCT", "18 years in Scotland", "£1.30 in Scotland"),
        ("CA-ON", "19 years in Ontario", "CA$2.32 in Ontario"),
        ("LT", "20 years in Lithuania", None),
        ("US-OR", "21 years in the United States", None),
    ],
)
def test_the_page_says_what_the_place_asks_of_the_drink(house, capsys, region, age, price):
    (house / "house.yaml").write_text(f"name: The Test Bar\nregion: {region}\n", encoding="utf-8")
    text = told(capsys)
    assert f"\nServed from   {age}\n" in text
    assert (f"\nLowest price  {price}\n" in text) if price else ("Lowest price" not in text)
    data = json.loads(told(capsys, "--json"))
    assert data["served_from_age"] == int(age[:2])
    assert data["region"] == region
    assert ("fairs and mass events" in data["age_note"]) == (region == "LT")
    assert data["rules_of"] == ("US" if region == "US-OR" else region)
    assert (data["lowest_price"] or {}).get("price") == (price and price.split()[0].lstrip("CA$£"))
    assert data["swaps"][0]["served_from_age"] == int(age[:2])
    assert data["swaps"][0]["lowest_price"] == data["lowest_price"]


def test_a_house_in_no_one_place_is_asked_for_the_state(house, capsys):
    (house / "house.yaml").write_text("name: The Test Bar\nregion: EU\n", encoding="utf-8")
    assert "error[region-too-wide]" in told(capsys, code=1)


def test_working_is_a_lab_note_with_numbered_sources(house, capsys):
    text = told(capsys, "--working")
    assert "100 x 20.00 ml / " in text
    assert "\nSources\n" in text
    assert "label, read 2026-11-01" in text
    assert "OIML R 22 (1975)" in text
    cited = {number for number in range(1, 60) if f"[{number}]" in text.partition("\nSources\n")[0]}
    listed = {number for number in range(1, 60) if f"[{number}] " in text.partition("\nSources\n")[2]}
    assert cited <= listed
    assert listed == set(range(1, max(listed) + 1))
    assert 'The family "sour", as served' in text
    assert "# Marsh Sour, o the others" in text


def test_json_carries_the_same_working(house, capsys):
    data = json.loads(told(capsys, "--json"))
    strength = next(item for item in data["working"] if item["name"] == "Strength as served")
    assert strength["value"] == pytest.approx(data["served_abv_percent"]["value"])
    assert {"unit", "low", "high", "given", "steps", "doubts", "sources"} <= strength.keys()
    assert data["taste"]["energy_kcal"]["value"] > 100
    assert data["family"]["of"] == len(data["family"]["drinks"]) - 1
    assert data["left_behind_ml"] == 3.0
    assert data["glass"]["liquid_ml"] == data["served_ml"]["value"], "one glass has one volume"


def test_json_has_what_stock_says_of_each_line_but_not_its_prose(house, capsys):
    lines = {line["name"]: line["said_in_stock"] for line in json.loads(told(capsys, "--json"))["lines"]}
    stock = read_house(DiskFiles(house)).house.stock
    assert lines["gin"]["distilled from"] == "wheat"
    assert lines["egg white"]["contains"] == "egg"
    assert all(said == stated(STOCK, stock[name]) for name, said in lines.items() if name in stock)
    assert not any({"supplier", "note"} & said.keys() for said in lines.values())


def test_a_change_stands_beside_the_drink_as_written(house, capsys):
    text = told(
        capsys, "--set", "lemon juice=20 ml", "--set", "egg white=none", "--set", "single cream=10 ml"
    )
    head, *rows = text.splitlines()
    assert head.split() == ["Marsh", "Sour", "as", "written", "as", "changed", "change"]
    cells = {row[:38].strip(): row[38:].split() for row in rows if row[:1] != ">"}
    assert cells["lemon juice"] == ["25", "ml", "20", "ml"]
    assert cells["egg white"] == ["1", "-"]
    assert cells["single cream"] == ["-", "10", "ml"]
    before, after, change = map(float, cells["Strength, % vol"])
    assert after - before == pytest.approx(change)
    assert cells["Units"] == ["2.00", "2.00"]
    assert cells["Cost without tax"][2].startswith("-£")
    assert "!! GAINED     MILK" in text
    assert "!! LOST       EGGS" in text
    assert "!! LOST       RAW EGG" in text


def test_a_change_in_json_tells_gained_and_lost(house, capsys):
    data = json.loads(told(capsys, "--set", "egg white=10 ml single cream", "--json"))
    assert data["changes"]["contains"] == {"gained": ["milk"], "lost": ["eggs"]}
    assert data["as_written"]["units"] == data["as_changed"]["units"]


def test_the_spec_on_the_disk_is_left_alone(house, capsys):
    before = (house / "specs/marsh-sour.md").read_bytes()
    told(capsys, "--set", "gin=60 ml", "--aim", "sweetness=as before")
    assert (house / "specs/marsh-sour.md").read_bytes() == before


def test_an_aim_says_what_moved_and_what_came_of_it(house, capsys):
    text = told(capsys, "--aim", "abv=12 %")
    assert "Free to move  gin in steps of 2.5 ml, chosen because it moves the figure most" in text
    assert "Aim           strength 12.0 % vol: comes to 12." in text


def test_an_aim_out_of_reach_says_so_and_by_how_much(house, capsys):
    text = " ".join(told(capsys, "--aim", "abv=39 %", "--by", "gin", "--step", "5 ml", "--quiet").split())
    assert "strength 39.0 % vol: NOT REACHED in steps of 5 ml; it stays" in text
    assert "% vol below, at" in text
    assert "gin at the end of what is tried" in text
    assert "chosen" not in text


def test_an_aim_in_json(house, capsys):
    data = json.loads(told(capsys, "--aim", "units=2.5", "--json"))
    (aim,) = data["moved"]["aims"]
    assert aim == {
        "figure": "units",
        "unit": "units",
        "target": 2.5,
        "value": 2.5,
        "reached": True,
        "off_by": 0.0,
    }


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["--set", "lemon jiuce=20 ml"], 'did you mean "lemon juice"?'),
        (["--set", "lemon juice"], "does not say what becomes of what"),
        (["--set", "lemon juice=lots"], "lots"),
        (["--aim", "fun=12"], "it knows abv"),
        (["--aim", "abv=120 %"], "stronger than pure alcohol"),
        (["--by", "gin"], "give --aim as well"),
        (["--step", "5 ml"], "give --aim as well"),
        (["--aim", "abv=12 %", "--by", "rum"], "no line of Marsh Sour is called that"),
        (["--aim", "abv=12 %", "--step", "a bit"], '--step "a bit"'),
        (["--event", "big-supper"], 'no event called "big-supper"; it has: small-supper'),
    ],
)
def test_wrong_use_is_one_plain_sentence_and_exit_code_2(house, capsys, arguments, word):
    said = told(capsys, *arguments, code=2)
    assert word in said
    assert said.startswith("menugen: ")
    assert len(said.splitlines()) == 1
    assert "Traceback" not in said


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("abv: 40 %", "abv: 120 %", "figure-out-of-range"),
        ("sugar: 615 g/l", "sugar: -615 g/l", "measure-not-positive"),
        ("abv: 40 %", "abv: 40 %\n  density: 0.80 g/ml", "label-contradicts-itself"),
        ("sugar: 615 g/l", "sugar: 615 g/l\n  density: 0.9 g/ml", "label-contradicts-itself"),
    ],
)
def test_figures_that_cannot_be_give_a_problem_and_never_a_number(house, capsys, old, new, code):
    stock = house / "stock/all.yaml"
    text = stock.read_text("utf-8")
    assert old in text
    stock.write_text(text.replace(old, new, 1), encoding="utf-8")
    assert main(["drink", "marsh-sour"]) == 1
    printed = capsys.readouterr()
    assert f"error[{code}]" in printed.err
    assert printed.out == ""


def test_only_the_bottles_of_the_drink_are_told_of(house, capsys):
    stock = house / "stock/all.yaml"
    stock.write_text(
        stock.read_text("utf-8").replace("abv: 12 %", "abv: 112 %").replace("abv: 40 %", "abv: 140 %"),
        "utf-8",
    )
    spec = house / "specs/marsh-sour.md"
    spec.write_text(spec.read_text("utf-8").replace("50 ml gin", "50 ml garden gin"), "utf-8")
    assert main(["drink", "marsh-sour"]) == 1
    err = capsys.readouterr().err
    assert "140 %" in err
    assert "112 %" not in err


def test_900_ml_in_a_small_glass_is_a_problem_with_a_remedy_and_no_number(house, capsys):
    spec = house / "specs/marsh-sour.md"
    spec.write_text(
        spec.read_text("utf-8").replace("15 ml sugar syrup", "900 ml sugar syrup"), encoding="utf-8"
    )
    assert main(["drink", "marsh-sour"]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "error[glass-far-too-small]" in printed.err
    assert "make it smaller by" in printed.err


def test_a_glass_a_little_too_small_is_a_warning_with_a_remedy(house, capsys):
    spec = house / "specs/marsh-sour.md"
    spec.write_text(spec.read_text("utf-8").replace("glass: sour", "glass: nick and nora"), encoding="utf-8")
    assert main(["drink", "marsh-sour"]) == 0
    printed = capsys.readouterr()
    assert "warning[overfull-glass]" in printed.err
    assert "ml over the brim: smaller by" in " ".join(printed.out.split())


def test_an_unread_label_is_never_called_clean(house, capsys):
    stock = house / "stock/all.yaml"
    stock.write_text(
        stock.read_text("utf-8").replace("  distilled from: [wheat]\n  contains: none\n", ""),
        encoding="utf-8",
    )
    assert main(["drink", "marsh-sour"]) == 1
    text = " ".join(capsys.readouterr().out.split())
    unread = "not known: the label of garden gin has not been read"
    assert f"Contains {unread}; the labels read say eggs" in text
    assert f"what it contains is {unread}" in text
    assert "none declared" not in text
    assert main(["drink", "marsh-sour", "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    for serve in (data, *data["swaps"]):
        assert (serve["contains"], serve["may_contain"], serve["unread"]) == (None, None, ["garden gin"])
    assert data["labels_read_say"] == {"contains": ["eggs"], "may_contain": [], "distilled_from": []}


def test_a_change_to_something_unread_takes_no_allergen_out(house, capsys):
    stock = house / "stock/all.yaml"
    text = stock.read_text("utf-8")
    head, tail = text.split("aquafaba:\n")
    tail = tail.replace("  contains: none\n", "", 1)
    stock.write_text(f"{head}aquafaba:\n{tail}", encoding="utf-8")
    assert main(["drink", "marsh-sour", "--set", "egg white=20 ml aquafaba"]) == 1
    text = " ".join(capsys.readouterr().out.split())
    assert "Contains not known: the label of aquafaba has not been read" in text
    assert "!! LOST EGGS" not in text
    assert "!! LOST RAW EGG" in text, "a caution is no question of labels"
    assert main(["drink", "marsh-sour", "--set", "egg white=20 ml aquafaba", "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["changes"]["contains"] == {"gained": [], "lost": None}
    assert (data["as_written"]["unread"], data["as_changed"]["unread"]) == ([], ["aquafaba"])
    assert data["as_written"]["contains"] == ["eggs"]


def test_a_measure_keeps_the_word_the_spec_has_for_it(house, capsys):
    (house / "specs/marsh-sour.md").write_text(
        "---\nname: Marsh Sour\npart: 25 ml\npour:\n  - 1 1/2 oz gin\n  - 25 ml lemon juice\n  - 1 part sugar syrup\n"
        "  - 1 egg white\n  - 2 dashes orgeat\n  - 1 1/2 barspoons aquafaba\nmethod: [shake]\nglass: collins\n"
        "top: soda water\ngarnish: lemon twist\n---\n",
        encoding="utf-8",
    )
    rows = [re.split(r"\s{2,}", line.strip()) for line in told(capsys).splitlines()[3:11]]
    cells = {name: row[: row.index(name)] for row in rows for name in row[:3] if name.islower()}
    assert cells["gin"] == ["45 ml", "1 1/2 oz"]
    assert cells["lemon juice"] == ["25 ml", "0.8 oz"]
    assert cells["sugar syrup"] == ["1 part", "25 ml"]
    assert cells["egg white"] == ["1", "20 ml"]
    assert cells["orgeat"] == ["2 dashes", "1.6 ml"]
    assert cells["aquafaba"] == ["1 1/2 barspoons", "7.5 ml"]
    assert cells["lemon twist"] == []
    text = told(capsys, "--set", "orgeat=1 dash")
    assert ["orgeat", "2", "dashes", "1", "dash"] in [line.split() for line in text.splitlines()]


def test_an_unknown_spec_is_told_which_there_are(house, capsys):
    def message(slug: str) -> str:
        assert main(["drink", slug]) == 2
        return capsys.readouterr().err

    assert 'no spec called "marsh-suor": did you mean "marsh-sour"?' in message("marsh-suor")
    assert 'no spec called "Marsh Souer": did you mean "marsh-sour"?' in message("Marsh Souer")
    assert "it has: marsh-sour" in message("zzz")
    for number in range(13):
        (house / f"specs/tall-{number}.md").write_text(
            (house / "specs/marsh-sour.md").read_text("utf-8"), "utf-8"
        )
    assert "its 14 specs are the files in specs/" in message("zzz")


def test_a_change_of_an_unknown_name_is_told_which_lines_there_are(house, capsys):
    for change, more in (("xyz=40 ml", True), ("xyz=none", False)):
        text = told(capsys, "--set", change, code=2)
        assert "; the lines there are: gin, lemon juice, sugar syrup, egg white, lemon twist" in text
        assert ("named in stock can be added" in text) is more


def test_a_strength_nobody_states_is_not_called_none(house, capsys):
    stock = house / "stock/all.yaml"
    stock.write_text(stock.read_text("utf-8").replace("  abv: 40 %\n", "", 1), encoding="utf-8")
    assert main(["drink", "marsh-sour"]) == 1
    text = " ".join(capsys.readouterr().out.split())
    assert "strength not known, garden gin states none" in text
    assert "Menu says" not in text
    assert "Alcohol" not in text


AT = ("--event", "small-supper")


@pytest.mark.parametrize(
    ("old", "new", "said", "amount", "shown"),
    [
        ("", "", "£9.50 at Small Supper", "9.50", True),
        ("9.50", "0", "free at Small Supper", "0", True),
        (": 9.50", "", "none at Small Supper", None, False),
        ("date:", "hosted: yes\ndate:", "none shown: Small Supper is hosted", "9.50", False),
    ],
)
def test_the_price_at_an_event_is_told_in_honest_words(house, capsys, old, new, said, amount, shown):
    event = house / "events/small-supper.yaml"
    event.write_text(event.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    text = told(capsys, *AT)
    assert re.search(rf"^Price +{re.escape(said)}$", text, re.MULTILINE)
    assert re.search(r"^Cost +£\d", text, re.MULTILINE)
    data = json.loads(told(capsys, *AT, "--json"))
    assert data["price"] == {"event": "small-supper", "amount": amount, "currency": "GBP", "shown": shown}


def test_at_home_and_off_the_menu_a_drink_has_no_price(house, capsys):
    assert "\nPrice " not in told(capsys)
    assert json.loads(told(capsys, "--json"))["price"] is None


def test_a_drink_with_alcohol_is_refused_at_an_event_without_any(house, capsys):
    event = house / "events/small-supper.yaml"
    event.write_text("alcohol: none\n" + event.read_text(encoding="utf-8"), encoding="utf-8")
    assert "error[alcohol-poured]" in told(capsys, *AT, code=1)
    spec = house / "specs/marsh-sour.md"
    spec.write_text(
        spec.read_text(encoding="utf-8").replace("50 ml gin", "50 ml soda water"), encoding="utf-8"
    )
    text = told(capsys, *AT)
    assert 'Menu says     nothing of strength: the event is "alcohol: none"' in text


BOWL = """\
---
name: Tide Bowl
serves: 10
pour: [450 ml gin, 250 ml lemon juice, 180 ml sugar syrup, 100 ml single cream]
method: build
glass: punch bowl
ice: cubed
swap:
  gin: 600 ml white wine
---
"""


@pytest.fixture
def bowl(house: Path) -> Path:
    (house / "specs/marsh-sour.md").write_text(BOWL, encoding="utf-8")
    return house


def one_line(text: str) -> str:
    return " ".join(text.split())


def test_a_bowl_says_one_serve_and_the_whole_of_every_figure(bowl, capsys):
    text = told(capsys)
    plain = one_line(text)
    assert re.search(r"Serves 10, about \d+ ml each", plain)
    assert (
        "Alcohol 18.0 ml, 14.2 g, 1.8 units in a serve; 180.0 ml, 142.1 g, 18 units in all; as counted"
        in plain
    )
    sugar = re.search(r"Sugar .*?; ([\d.]+) g in a serve, ([\d.]+) g in all", plain)
    assert sugar is not None
    assert float(sugar[2]) == pytest.approx(10 * float(sugar[1]), abs=0.55)
    energy = re.search(r"Energy (\d+) kJ, (\d+) kcal \(.*?\) in a serve; (\d+) kJ, (\d+) kcal in all", plain)
    assert energy is not None
    assert int(energy[3]) == pytest.approx(10 * int(energy[1]), abs=5.5)
    assert int(energy[4]) == pytest.approx(10 * int(energy[2]), abs=5.5)
    assert re.search(r"Fat [\d.]+ g \(.*?\) in a serve, [\d.]+ g in all", plain)
    assert re.search(r"Cost £[\d.]+ a serve, £[\d.]+ the whole, without tax", plain)
    assert "about 0.7 units in one serve, 7.2 units in all" in plain.replace("\N{NO-BREAK SPACE}", " ")
    assert "On ice" not in text


def test_a_bowls_json_is_of_the_whole_with_one_serve_beside_it(bowl, capsys):
    found = json.loads(told(capsys, "--json"))
    one = found["one_serve"]
    assert (found["serves"], found["units"], found["units_shown"]) == (10, 18.0, "18 units")
    assert (one["units"], one["units_shown"], one["ethanol_ml"]) == (1.8, "1.8 units", 18.0)
    assert one["sugar_g"]["value"] == pytest.approx(found["taste"]["sugar_g"]["value"] / 10, abs=1e-3)
    assert one["energy_kcal"]["value"] == pytest.approx(found["taste"]["energy_kcal"]["value"] / 10, abs=1e-3)
    assert one["served_ml"] == pytest.approx(found["glass"]["liquid_ml"] / 10, abs=1e-3)
    assert float(found["cost"]["a_serve"]) == pytest.approx(float(found["cost"]["known"]) / 10)
    assert found["on_ice_10_minutes_abv_percent"] is None
    assert found["swaps"][0]["one_serve"]["units"] == pytest.approx(0.72)
    assert "Units in one serve" in [one["name"] for one in found["working"]]


def test_a_drink_for_one_has_no_serve_beside_it(house, capsys):
    found = json.loads(told(capsys, "--json"))
    assert (found["serves"], found["one_serve"]) == (1, None)
    assert "a_serve" not in found["cost"]
    assert found["on_ice_10_minutes_abv_percent"] is not None
    text = told(capsys)
    assert "in all" not in text
    assert "Serves" not in text
    assert re.search(r"g in a serve\n", text)


def test_a_changed_bowl_stands_beside_it_with_one_serve_and_all(bowl, capsys):
    text = told(capsys, "--set", "gin=400 ml")
    rows = {" ".join(line.split()[:-3]): line.split()[-3:] for line in text.splitlines() if "," in line}
    assert rows["Units, in all"] == ["18.00", "16.00", "-2.00"]
    assert rows["Units, one serve"] == ["1.80", "1.60", "-0.20"]
    assert "Energy, in all, kcal" in rows
    assert "Energy, one serve, kcal" in rows


def test_a_bowls_working_is_a_lab_note_of_both(bowl, capsys):
    text = told(capsys, "--working")
    assert "Units in the whole" in text
    assert "18.00 units in the whole / 10 = 1.800 units" in text
    assert "ladled out evenly" in text


def test_a_bowls_price_at_an_event_is_said_to_be_for_all(bowl, capsys):
    assert "Price £9.50 for all 10 serves at Small Supper" in one_line(
        told(capsys, "--event", "small-supper")
    )
    event = bowl / "events/small-supper.yaml"
    event.write_text(event.read_text("utf-8") + "hosted: yes\n", encoding="utf-8")
    assert "Price none shown: Small Supper is hosted" in one_line(told(capsys, "--event", "small-supper"))


@pytest.mark.parametrize("options", [(), ("--json",), ("--set", "egg white=none"), ("--aim", "abv=12 %")])
def test_a_bottle_of_the_event_that_is_not_in_stock_is_told_of(house, capsys, options):
    event = house / "events/small-supper.yaml"
    event.write_text(event.read_text("utf-8") + "bottles: {gin: ferry gin}\n", encoding="utf-8")
    assert main(["drink", "marsh-sour", "--event", "small-supper", *options]) == 1
    said = capsys.readouterr()
    if "--json" in options:
        (problem,) = json.loads(said.out)
        assert (problem["code"], problem["file"]) == ("unknown-stock", "events/small-supper.yaml")
    else:
        assert 'error[unknown-stock]: nothing in stock is called "ferry gin"' in said.err
        assert said.out == ""


@pytest.mark.parametrize("change", ["lemon juice=20 ml vodka", "lemon juice=vodka", "vodka=20 ml"])
def test_a_change_to_a_bottle_of_the_event_that_is_not_in_stock_is_refused(house, capsys, change):
    event = house / "events/small-supper.yaml"
    event.write_text(event.read_text("utf-8") + "bottles: {vodka: dock vodka}\n", encoding="utf-8")
    assert main(["drink", "marsh-sour", "--event", "small-supper", "--set", change]) == 2
    said = capsys.readouterr().err
    assert said == f'menugen: --set "{change}": the bottle that the event names for "vodka" is not in stock\n'


def test_a_changed_drink_that_cannot_be_worked_out_says_so_in_json(house, capsys):
    assert main(["drink", "marsh-sour", "--set", "gin=3000 ml", "--json"]) == 1
    assert {problem["code"] for problem in json.loads(capsys.readouterr().out)} >= {"glass-far-too-small"}
