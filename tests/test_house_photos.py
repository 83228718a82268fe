"""A house's photos: which drink each shows, what is told of the others, and that none is made twice."""

import os
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from menugen import house_photos
from menugen.house_photos import HousePhoto, PhotoChanged, check_photos, make_photos
from menugen.problems import Severity
from menugen.publishing import check_house, event_files
from menugen.reading import DiskFiles
from menugen.revisions import files_at
from menugen.writing.file_cache import FileCache
from menugen.writing.photos import make_photo
from tests.houses import texts

DRINKS = frozenset({"saltmarsh-sour", "quiet-harbour", "café-noir"})
NOTHING = FileCache(None)


def picture(colour: str = "#8a4b2a", form: str = "JPEG", size: tuple[int, int] = (800, 600)) -> bytes:
    content = BytesIO()
    Image.new("RGB", size, colour).save(content, form)
    return content.getvalue()


@pytest.fixture
def house(tmp_path: Path) -> Path:
    (tmp_path / "photos").mkdir()
    return tmp_path


def put(house: Path, **files: bytes) -> None:
    for name, content in files.items():
        (house / "photos" / name).write_bytes(content)


def looked_at(house: Path, made: FileCache = NOTHING) -> tuple[dict[str, str], list[tuple[str, str]]]:
    photos, problems = check_photos(DiskFiles(house), DRINKS, DRINKS, made)
    assert all(problem.severity is Severity.WARNING for problem in problems)
    assert all(problem.hints for problem in problems)
    return {slug: photo.path for slug, photo in photos.items()}, [
        (problem.code, problem.where.file) for problem in problems
    ]


def test_a_photo_is_named_for_its_drink(house):
    put(house, **{"saltmarsh-sour.jpg": picture(), "quiet-harbour.PNG": picture(form="PNG")})
    put(house, **{"cafe\u0301-noir.webp": picture(form="WEBP")})
    photos, problems = looked_at(house)
    assert {slug: Path(path).suffix for slug, path in photos.items()} == {
        "saltmarsh-sour": ".jpg",
        "quiet-harbour": ".PNG",
        "café-noir": ".webp",
    }
    assert problems == []


def test_a_house_without_photos_has_none(tmp_path):
    assert looked_at(tmp_path) == ({}, [])


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("saltmarsh-sour.jpg", b"no photo", "photo-unreadable"),
        ("saltmarsh-sour.jpg", b"", "photo-unreadable"),
        ("saltmarsh-sour.jpg", picture()[:-200], "photo-unreadable"),
        (
            "saltmarsh-sour.jpg",
            b"version https://git-lfs.github.com/spec/v1\noid sha256:%064d\nsize 4000\n" % 0,
            "photo-not-fetched",
        ),
        ("saltmarsh-sour.jpg", bytes(house_photos.LARGEST_BYTES + 1), "photo-too-large"),
        ("saltmarsh-sour.HEIC", b"", "photo-form"),
        ("saltmarsh-sower.jpg", picture(), "photo-no-drink"),
    ],
    ids=["no photo", "empty", "cut off", "a pointer", "too large", "a form unknown", "no such drink"],
)
def test_each_fault_is_a_warning_at_its_file(house, name, content, code):
    put(house, **{name: content})
    assert looked_at(house) == ({}, [(code, f"photos/{name}")])


def test_a_name_that_is_nearly_a_drinks_is_asked_about(house):
    put(house, **{"saltmarsh-sower.jpg": picture()})
    _, (problem,) = check_photos(DiskFiles(house), DRINKS, DRINKS, NOTHING)
    assert problem.hints[0] == 'did you mean "saltmarsh-sour"?'


def test_of_two_photos_of_a_drink_the_first_is_shown_and_the_other_told(house):
    put(house, **{"saltmarsh-sour.jpg": picture(), "saltmarsh-sour.png": picture(form="PNG")})
    photos, problems = looked_at(house)
    assert photos == {"saltmarsh-sour": "photos/saltmarsh-sour.jpg"}
    assert problems == [("photo-twice", "photos/saltmarsh-sour.png")]


def test_other_files_are_left_alone(house):
    put(house, **{"README.md": b"x", ".hidden.jpg": b"x", "notes": b"x", "saltmarsh-sour.txt": b"x"})
    assert looked_at(house) == ({}, [])


def test_a_drink_that_is_not_wanted_is_not_read(house):
    put(house, **{"saltmarsh-sour.jpg": b"no photo"})
    assert check_photos(DiskFiles(house), DRINKS, frozenset(), NOTHING) == ({}, ())


def test_a_photo_that_is_mended_is_seen_at_the_next_look(house):
    put(house, **{"saltmarsh-sour.jpg": b"no photo"})
    assert looked_at(house)[1]
    put(house, **{"saltmarsh-sour.jpg": picture()})
    assert looked_at(house) == ({"saltmarsh-sour": "photos/saltmarsh-sour.jpg"}, [])


def test_a_photo_is_made_once_and_comes_out_of_the_folder_as_it_went_in(house, monkeypatch):
    put(house, **{"saltmarsh-sour.jpg": picture()})
    files, made = DiskFiles(house), FileCache(house / "kept")
    told: list[str] = []
    photos, _ = check_photos(files, DRINKS, DRINKS, made)
    first = make_photos(files, photos, made, lambda what, _done, _total: told.append(what))
    assert told == ["making the photo of saltmarsh-sour ready"]
    assert first == {"saltmarsh-sour": make_photo(picture())}
    again = make_photos(files, photos, made, lambda what, _done, _total: told.append(what))
    assert again == first
    assert len(told) == 1


def test_another_photo_under_the_same_name_is_made_anew(house):
    files, made = DiskFiles(house), FileCache(house / "kept")
    found = []
    for colour in ("#8a4b2a", "#2a4b8a"):
        put(house, **{"saltmarsh-sour.jpg": picture(colour)})
        photos, _ = check_photos(files, DRINKS, DRINKS, made)
        found.append(make_photos(files, photos, made, lambda *_: None))
    assert found[0] != found[1]


def test_a_file_that_changes_between_the_look_and_the_making_is_told(house):
    put(house, **{"saltmarsh-sour.jpg": picture()})
    files = DiskFiles(house)
    photos, _ = check_photos(files, DRINKS, DRINKS, NOTHING)
    for content in (picture("#2a4b8a"), b"no photo"):
        put(house, **{"saltmarsh-sour.jpg": content})
        with pytest.raises(PhotoChanged, match=r"photos/saltmarsh-sour\.jpg: .* changed during"):
            make_photos(files, photos, NOTHING, lambda *_: None)
    (house / "photos/saltmarsh-sour.jpg").unlink()
    with pytest.raises(PhotoChanged):
        make_photos(files, photos, NOTHING, lambda *_: None)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a file its owner may not read")
def test_a_file_that_may_not_be_read_is_told(house):
    put(house, **{"saltmarsh-sour.jpg": picture()})
    (house / "photos/saltmarsh-sour.jpg").chmod(0)
    assert looked_at(house) == ({}, [("photo-unreadable", "photos/saltmarsh-sour.jpg")])


def test_a_folder_in_the_place_of_a_photo_is_passed_over(house):
    (house / "photos/saltmarsh-sour.jpg").mkdir()
    assert looked_at(house) == ({}, [])


def git(folder: Path, *words: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=Bar", "-c", "user.email=bar@example.org", *words],
        cwd=folder,
        check=True,
        capture_output=True,
    )


def test_a_past_house_shows_the_photo_of_its_day(house):
    (house / "house.yaml").write_text("name: The Lantern Cart\n", "utf-8")
    put(house, **{"saltmarsh-sour.jpg": picture()})
    git(house, "init", "-q")
    git(house, "add", ".")
    git(house, "commit", "-q", "-m", "first")
    put(house, **{"saltmarsh-sour.jpg": picture("#2a4b8a")})
    files = files_at(house, "HEAD")
    photos, problems = check_photos(files, DRINKS, DRINKS, NOTHING)
    assert problems == ()
    assert make_photos(files, photos, NOTHING, lambda *_: None) == {"saltmarsh-sour": make_photo(picture())}
    assert photos != {"saltmarsh-sour": HousePhoto("photos/saltmarsh-sour.jpg", "", 800)}


def test_a_published_event_shows_its_photos_and_says_nothing_of_where_they_were_taken(tmp_path):
    for name, text in texts().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8", newline="\n")
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (52.0, 57.0, 1.5)}
    exif[0x010F] = "Tidewater Cameras"
    content = BytesIO()
    Image.new("RGB", (700, 500), "#8a4b2a").save(content, "JPEG", exif=exif)
    slug = next(Path(name).stem for name in texts() if name.startswith("specs/"))
    (tmp_path / "photos").mkdir()
    put(tmp_path, **{f"{slug}.jpg": content.getvalue()})
    look = check_house(tmp_path, DiskFiles(tmp_path), kept=tmp_path / "out" / house_photos.KEPT)
    assert not look.stopped
    assert list(look.photos) == [slug]
    files = event_files(look, look.events[0])
    shown = [path for path in files if "/photo-" in path]
    assert len(shown) == 9
    assert not any(b"Tidewater" in content for content in files.values())
    assert b"<picture" in files[f"site/drinks/{slug}.html"]
    assert b"<picture" not in files["site/t/index.html"]
    assert event_files(look, look.events[0]) == files
    kept = [file.name for file in (tmp_path / "out" / house_photos.KEPT).iterdir()]
    assert len([name for name in kept if not name.startswith("png")]) == 1, "but for the menu's own picture"


def test_a_photo_of_too_few_pixels_is_shown_and_told(house):
    put(
        house,
        **{"saltmarsh-sour.jpg": picture(size=(683, 500)), "quiet-harbour.jpg": picture(size=(684, 500))},
    )
    photos, problems = looked_at(house)
    assert set(photos) == {"saltmarsh-sour", "quiet-harbour"}
    assert problems == [("photo-small", "photos/saltmarsh-sour.jpg")]


def test_a_photo_made_before_is_told_as_one_made_now(house, tmp_path):
    put(house, **{"saltmarsh-sour.jpg": picture(size=(320, 240))})
    made = FileCache(tmp_path / ".photos")
    photos, _ = check_photos(DiskFiles(house), DRINKS, DRINKS, made)
    make_photos(DiskFiles(house), photos, made, lambda *_: None)
    house_photos._KNOWN.clear()
    (photo,) = check_photos(DiskFiles(house), DRINKS, DRINKS, made)[0].values()
    assert photo.width == 320
    assert looked_at(house, made)[1] == [("photo-small", "photos/saltmarsh-sour.jpg")]


def test_a_link_out_of_the_house_is_not_shown(house, tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    (elsewhere / "saltmarsh-sour.jpg").write_bytes(picture())
    try:
        (house / "photos/saltmarsh-sour.jpg").symlink_to(elsewhere / "saltmarsh-sour.jpg")
    except OSError:
        pytest.skip("this system makes no links")
    assert looked_at(house) == ({}, [("photo-elsewhere", "photos/saltmarsh-sour.jpg")])
    (house / "photos/saltmarsh-sour.jpg").unlink()
    (house / "photos").rmdir()
    (house / "photos").symlink_to(elsewhere, target_is_directory=True)
    assert looked_at(house) == ({}, [("photo-elsewhere", "photos")])


def test_a_link_within_the_house_or_its_repository_is_followed(tmp_path):
    (tmp_path / ".git").mkdir()
    house = tmp_path / "bar"
    (house / "photos").mkdir(parents=True)
    (tmp_path / "shared.jpg").write_bytes(picture())
    put(house, **{"quiet-harbour.jpg": picture()})
    try:
        (house / "photos/saltmarsh-sour.jpg").symlink_to(tmp_path / "shared.jpg")
        (house / "photos/café-noir.jpg").symlink_to("quiet-harbour.jpg")
    except OSError:
        pytest.skip("this system makes no links")
    photos, problems = looked_at(house)
    assert set(photos) == DRINKS
    assert problems == []


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes")
def test_what_is_no_ordinary_file_is_neither_waited_for_nor_shown(house):
    os.mkfifo(house / "photos/saltmarsh-sour.jpg")
    assert looked_at(house) == ({}, [])
    # And where it takes a photo's place after the folder was looked into.
    with pytest.raises(OSError, match="a pipe or a device, not a file"):
        DiskFiles(house).read("photos/saltmarsh-sour.jpg")
    with pytest.raises(IsADirectoryError):
        DiskFiles(house).read("photos")


def test_a_heavy_file_is_refused_unread(house, monkeypatch):
    with (house / "photos/saltmarsh-sour.jpg").open("wb") as file:
        file.truncate(house_photos.LARGEST_BYTES + 1)
    monkeypatch.setattr(DiskFiles, "read", lambda *_: pytest.fail("it was read"))
    _, (problem,) = check_photos(DiskFiles(house), DRINKS, DRINKS, NOTHING)
    assert problem.message == "this photo is larger than 40 MiB"


def test_what_became_of_a_photo_is_told_as_it_is(house, monkeypatch):
    put(house, **{"saltmarsh-sour.jpg": picture()})
    files = DiskFiles(house)
    photos, _ = check_photos(files, DRINKS, DRINKS, NOTHING)

    def told() -> PhotoChanged:
        with pytest.raises(PhotoChanged) as raised:
            make_photos(files, photos, NOTHING, lambda *_: None)
        return raised.value

    with monkeypatch.context() as patch:
        patch.setattr(Image.Image, "resize", lambda *_: out_of_memory())
        fault = told()
        assert fault.path == "photos/saltmarsh-sour.jpg"
        assert "too little free memory" in fault.why
        assert "changed" not in str(fault)
        assert str(fault).endswith(
            "close other programs, or save it smaller, 2,000 pixels wide is plenty, and publish again"
        )
    put(house, **{"saltmarsh-sour.jpg": bytes(house_photos.LARGEST_BYTES + 1)})
    assert "larger than 40 MiB" in str(told())
    (house / "photos/saltmarsh-sour.jpg").unlink()
    assert "this photo is gone" in str(told())
    put(house, **{"saltmarsh-sour.jpg": picture()})
    assert make_photos(files, photos, NOTHING, lambda *_: None)


def out_of_memory() -> None:
    raise MemoryError


def test_a_photo_for_which_there_was_no_memory_is_looked_at_again(house, monkeypatch):
    put(house, **{"saltmarsh-sour.jpg": picture()})
    with monkeypatch.context() as patch:
        patch.setattr("PIL.ImageFile.ImageFile.load", lambda *_: out_of_memory())
        assert looked_at(house) == ({}, [("photo-no-memory", "photos/saltmarsh-sour.jpg")])
    assert looked_at(house) == ({"saltmarsh-sour": "photos/saltmarsh-sour.jpg"}, [])


def test_a_photo_in_a_name_of_another_form_is_told_what_it_is(house):
    put(house, **{"saltmarsh-sour.jpg": picture(form="GIF")})
    _, (problem,) = check_photos(DiskFiles(house), DRINKS, DRINKS, NOTHING)
    assert problem.message == "this is a GIF, whatever its name says: a photo is a JPEG, PNG or WebP"
    assert problem.hints == ("open it and save it as JPEG; until then the drink is drawn",)


def test_links_in_a_circle_are_told(house):
    try:
        (house / "photos/saltmarsh-sour.jpg").symlink_to("saltmarsh-sour.jpg")
    except OSError:
        pytest.skip("this system makes no links")
    assert looked_at(house) == ({}, [("photo-unreadable", "photos/saltmarsh-sour.jpg")])
    (house / "photos/saltmarsh-sour.jpg").unlink()
    (house / "photos").rmdir()
    (house / "photos").symlink_to("photos")
    assert looked_at(house) == ({}, [("photo-unreadable", "photos")])
