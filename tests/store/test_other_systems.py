"""A system that lacks what only Unix has: reading, saving, drafts and recovery do their work there too."""

import subprocess
import sys
from pathlib import Path

from support import environment

#: What Windows has not: modules, and names of `os`.
BLOCKED = ("termios", "fcntl", "pwd", "grp", "resource", "tty", "pty")
MISSING = (
    "O_NOFOLLOW", "O_NONBLOCK", "O_NOCTTY", "O_CLOEXEC", "O_DIRECTORY", "geteuid", "getuid", "fchmod",
    "fchown", "chown", "fork", "mkfifo",
)  # fmt: skip

WORK = f"""
import os, sys
for name in {BLOCKED!r}:
    sys.modules[name] = None
import filelock, platformdirs, tempfile  # these look for what Linux has, for they know where they are
for name in {MISSING!r}:
    if hasattr(os, name):
        delattr(os, name)
from pathlib import Path
from cogwright.core.setup.edits import SetTeeth
from cogwright.store.documents import read_setup
from cogwright.store.drafts import Drafts, drop, pending
from cogwright.store.saving import backup_of, delete, undelete, write_setup
from cogwright.store.shelf import read_shelf
path = Path("shelf", "a.toml")
before = path.read_bytes()
document = read_setup(path)
edited = SetTeeth("cog", 28, 30).apply(document.value)
saved = write_setup(path, edited, document.stamp)
assert read_setup(path) == saved and saved.doubt == "" and saved.value == edited
assert b"# measured" in path.read_bytes() and backup_of(path).read_bytes() == before
assert write_setup(path, document.value, saved.stamp).value == document.value
assert path.read_bytes() == before
write_setup(path.with_name("b.toml"), edited)
assert [entry.name for entry in read_shelf(path.parent)] == ["a.toml", "b.toml"]
drafts = Drafts()
drafts.put(path, edited, document.stamp)
assert drafts.failing == "", drafts.failing
drafts.close()
(draft,) = pending(of=path.parent).drafts
assert draft.setup == edited and draft.changes() == ("cog 28 to 30",)
assert drop(draft) and pending().drafts == ()
assert delete(path) == "" and undelete(path) == "" and path.read_bytes() == before
assert sorted(os.listdir("shelf")) == ["a.toml", "a.toml.orig", "b.toml"], os.listdir("shelf")
from cogwright.cli import main
for command in (["check", "shelf"], ["report", "shelf/a.toml"], ["propose", "shelf/a.toml", "--even"]):
    assert main(command) == 0, command
print("all done")
"""


def test_the_store_and_the_commands_without_what_only_unix_has(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "a.toml").write_bytes(
        b'format = 1\r\nname = "Yard 7"  # measured\r\n[wheel]\r\nsize = "40-622"\r\n'
        b"[crank]\r\nrings = [30, 46]\r\n[rear]\r\ncogs = [11, 13, 15, 17, 19, 21, 24, 28]\r\n"
    )
    env = environment(XDG_STATE_HOME=str(tmp_path / "state"), HOME=str(tmp_path))
    done = subprocess.run(
        [sys.executable, "-c", WORK],
        cwd=tmp_path,
        env=env,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.endswith("all done\n")
