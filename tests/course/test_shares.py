"""Folders that a class shares: everyone gets in, the teacher can mark, nothing is opened wider.

Three accounts take part, which only root can play. Where another runs the tests, each is played by
that one account with the umask of a stranger, so that the rights alone are asserted; it says so.
"""

from __future__ import annotations

import os
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from helpers.accounts import (
    CLASS,
    FIRST,
    IS_ROOT,
    POSIX,
    SECOND,
    TEACHER,
    as_account,
    mode_of,
    shared_folder,
)
from helpers.drill_disks import DRILL, TYPED
from helpers.material import CATALOGUE
from leverstep.bench.practice import Practice
from leverstep.course.places import put_by
from leverstep.course.sharing import make_folder
from leverstep.drill.sitting import Sitting
from leverstep.marking.collecting import gather, mark_all

if POSIX:
    SHARES = {
        "open to all": (0o777, None, (0o777, 0o644)),
        "open to all, sticky": (0o1777, None, (0o1777, 0o644)),
        "a group's": (0o770, CLASS, (0o770, 0o640)),
        "a group's, set-gid": (0o2770, CLASS, (0o2770, 0o640)),
        "a group's, set-gid and sticky": (0o3770, CLASS, (0o3770, 0o640)),
        "a group's, which all may read": (0o2775, CLASS, (0o2775, 0o644)),
    }
    """The mode and group of a folder, and the modes of folders and of records within it."""

    def sit(share: Path, student: str) -> None:
        """Sit a drill into a share, one line of it, and hand in."""
        one = Sitting.start(DRILL, CATALOGUE, student, share)
        one.benches[0].enter(*TYPED[0])
        one.hand_in()

    def mark(share: Path) -> None:
        """Mark all that lies in a share; both students must be there."""
        with ThreadPoolExecutor(1) as pool:
            marked = list(mark_all(DRILL, CATALOGUE, gather([share]).records, pool))
        found = [(one.student, len(one.entries), one.remarks) for one in marked]
        assert found == [("s1", 1, ()), ("s2", 1, ())], found

    def is_of_one_account(share: Path) -> bool:
        """Return whether the group of a share is its owner's own, where root gave it no other."""
        found = share.stat()
        return found.st_gid == found.st_uid and not found.st_mode & (stat.S_ISGID | stat.S_IWOTH)

    def say_who_plays() -> None:
        """Say so where one account plays all three."""
        if not IS_ROOT:
            print("This account is not root: it plays all three accounts, and modes are asserted.")

    @pytest.mark.parametrize("umask", [0o022, 0o077, 0o000])
    @pytest.mark.parametrize("name", SHARES)
    def test_a_class_sits_into_one_share_and_the_teacher_marks(name: str, umask: int) -> None:
        say_who_plays()
        mode, group, (of_folder, of_record) = SHARES[name]
        with shared_folder(mode, group) as share:
            if is_of_one_account(share):
                of_folder, of_record = 0o700, 0o600
            assert as_account(FIRST, lambda: sit(share, "s1"), umask) == ""
            assert as_account(SECOND, lambda: sit(share, "s2"), umask) == ""
            assert as_account(TEACHER, lambda: mark(share), umask) == ""
            assert mode_of(share / "levers") == of_folder
            records = list((share / "levers").iterdir())
            assert [mode_of(path) for path in records] == [of_record] * 2
            if group is not None and IS_ROOT:
                assert {path.stat().st_gid for path in [share / "levers", *records]} == {group}

    def test_a_share_of_a_group_that_a_student_is_not_in_is_not_opened_to_another_group() -> None:
        """Who lets others in through rights for all gives the own group no more than those."""
        with shared_folder(0o1773, CLASS) as share:
            assert as_account(FIRST, lambda: sit(share, "s1"), 0o000, groups=()) == ""
            made = [share / "levers", *(share / "levers").iterdir()]
            if IS_ROOT:
                assert {path.stat().st_gid for path in made} == {FIRST}
                assert [mode_of(path) for path in made] == [0o1733, 0o600]

    @pytest.mark.parametrize(("umask", "mode"), [(0o022, 0o755), (0o000, 0o755), (0o002, 0o775)])
    def test_the_data_of_a_user_stay_private_whatever_the_umask(umask: int, mode: int) -> None:
        """A group of the number of its account is that account's own, as many systems have it."""
        with shared_folder(mode) as own:
            if IS_ROOT:
                os.chown(own, FIRST, FIRST)

            def use() -> None:
                os.environ["LEVERSTEP_HOME"] = str(own / "data" / "leverstep")
                Practice.start(DRILL.items[0].problem, "1", CATALOGUE).enter(*TYPED[0])
                Sitting.start(DRILL, CATALOGUE, "s1")
                put_by(own / "data" / "leverstep" / "look", "dark\n")

            assert as_account(FIRST, use, umask) == ""
            made = sorted((own / "data").rglob("*"))
            assert len(made) == 10
            for path in [own / "data", *made]:
                assert mode_of(path) == (0o700 if path.is_dir() else 0o600), path

    def test_many_who_begin_at_once_all_get_in() -> None:
        """The folder of a drill is there for all or not yet: it opens to no one by and by."""
        say_who_plays()
        with shared_folder(0o2770, CLASS) as share:
            children = []
            for number in range(12):
                child = os.fork()
                if child == 0:
                    told = as_account(
                        FIRST + 10 + number, lambda n=number: sit(share, f"s{n:02}"), 0o077
                    )
                    os._exit(bool(told))
                children.append(child)
            ends = [os.waitpid(child, 0)[1] for child in children]
            assert ends == [0] * 12
            assert sorted(path.name for path in share.iterdir()) == ["levers"]
            assert len(list((share / "levers").iterdir())) == 12

    @pytest.mark.parametrize("umask", [0o022, 0o077])
    @pytest.mark.parametrize("mode", [0o777, 0o1777])
    def test_folders_that_are_not_there_yet_are_as_open_as_the_share(mode: int, umask: int) -> None:
        with shared_folder(mode) as share:
            inner = share / "week 3" / "group a"
            assert as_account(FIRST, lambda: sit(inner, "s1"), umask) == ""
            assert as_account(SECOND, lambda: sit(inner, "s2"), umask) == ""
            made = [inner.parent, inner, inner / "levers"]
            assert [mode_of(folder) for folder in made] == [mode] * 3

    def test_what_is_made_in_a_share_follows_from_one_look_at_it(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Its rights may change meanwhile: then a folder is its owner's, or open to all."""
        share, looked = tmp_path / "share", Path.stat
        share.mkdir()
        share.chmod(0o777)

        def looks(path: Path, **how: bool) -> os.stat_result:
            found = looked(path, **how)
            if path == share and not (share / "levers").exists():
                os.chmod(share, 0o755 if found.st_mode & stat.S_IWOTH else 0o777)
            return found

        for _ in range(2):  # whichever look comes first
            with monkeypatch.context() as patched:
                patched.setattr(Path, "stat", looks)
                make_folder(share / "levers")
            assert mode_of(share / "levers") in (0o700, 0o777)
            (share / "levers").rmdir()
            share.chmod(0o755)

    def test_a_folder_that_another_put_a_link_for_takes_no_record() -> None:
        with shared_folder(0o1777) as share:
            elsewhere = share.parent / "elsewhere"
            elsewhere.mkdir()
            elsewhere.chmod(0o777)
            (share / "levers").symlink_to(elsewhere)
            told = as_account(FIRST, lambda: sit(share, "s1"))
            assert "it is a link" in told
            assert list(elsewhere.iterdir()) == []
            assert stat.S_ISLNK((share / "levers").lstat().st_mode)
