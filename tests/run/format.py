"""
What `garboard format` must keep, over every spec of the project; run by format.sh.

Each spec (the demo boats, the starter, the boat blocks of the documents, the wrong specs) is formatted in a copy of its
folder. Formatted twice is formatted once, and `check` and `figures` print of the new text what they print of the old one,
places and blanks aside. A file that is refused stays as it was, byte for byte.
"""
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
GARBOARD = os.environ["GARBOARD"]
AS_OF = ["--as-of", "2027-03-01"]
# Told of a brace on a line where it cannot stand: laid out anew, it stands where it can. Nothing else is mended.
MENDED = "brace-place"

passed = 0
failed = 0


def report(name, complaint):
    global passed, failed
    if complaint is None:
        passed += 1
    else:
        failed += 1
        print(f"[  FAILED  ] {name}: {complaint}")


def run(arguments, folder):
    return subprocess.run([GARBOARD] + arguments, cwd=folder, stdin=subprocess.DEVNULL, capture_output=True, timeout=120,
                          check=False)


def read(path):
    with open(path, "rb") as file:
        return file.read()


def is_place(key):
    return key.endswith("line") or key.endswith("column")


def without_places(value):
    """A document without lines and columns, and its texts without blanks: they may quote what is written."""
    if isinstance(value, dict):
        return {key: without_places(inner) for key, inner in value.items() if not is_place(key)}
    if isinstance(value, list):
        kept = [inner for inner in value if not (isinstance(inner, dict) and inner.get("name") == MENDED)]
        return [without_places(inner) for inner in kept]
    if isinstance(value, str):
        return re.sub(r"\s+", "", value)
    return value


def what_it_says(name, folder):
    """What `check` and `figures` print of a spec."""
    said = []
    for command in ["check", "figures"]:
        done = run([command, name, "--format", "json"] + AS_OF, folder)
        if done.returncode not in (0, 1):
            return f"{command}: exit status {done.returncode}: {done.stderr.decode()}"
        document = without_places(json.loads(done.stdout))
        if "summary" in document:
            document["summary"].pop("mistakes")
        said.append(document)
    return said


def difference(before, after, path=""):
    if isinstance(before, dict) and isinstance(after, dict) and before.keys() == after.keys():
        pairs = [(key, before[key], after[key]) for key in before]
    elif isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        pairs = [(str(i), a, b) for i, (a, b) in enumerate(zip(before, after))]
    else:
        return None if before == after else f"{path}\n  before: {str(before)[:300]}\n  after:  {str(after)[:300]}"
    return next((found for key, a, b in pairs if (found := difference(a, b, f"{path}/{key}"))), None)


def check(name, folder, files):
    """Formats the files of one spec, whose main one is `name`, in its folder."""
    before = {file: read(os.path.join(folder, file)) for file in files}
    said = what_it_says(name, folder)
    done = run(["format"] + files, folder)
    if done.returncode not in (0, 1):
        report(name, f"exit status {done.returncode}: {done.stderr.decode()}")
        return
    if done.returncode == 1:
        refused = [line.split(b": ")[1].split(b":")[0].decode() for line in done.stderr.splitlines()]
        report(f"{name} refused", None if refused and all(before[f] == read(os.path.join(folder, f)) for f in refused)
               else f"refused, yet not as it was: {done.stderr.decode()}")
    once = {file: read(os.path.join(folder, file)) for file in files}
    again = run(["format"] + files, folder)
    twice = {file: read(os.path.join(folder, file)) for file in files}
    report(f"{name} twice", None if again.returncode == done.returncode and once == twice else "twice is not once")
    report(f"{name} meaning", difference(said, what_it_says(name, folder)))


def fits(files, folder):
    """No line of the laid out specs is wider than it need be: what is in quotes and in comments aside."""
    for file in files:
        for line in read(os.path.join(folder, file)).decode("utf-8", "replace").split("\n"):
            bare = re.sub(r'"(\\.|[^"\\])*"', "", line)
            if "#" not in bare and len(line) > 100 and ";" in bare:
                return f"{file}: {line}"
    return None


def check_specs(parent):
    folder = os.path.join(parent, "specs")
    shutil.copytree(os.path.join(ROOT, "specs"), folder)
    found = sorted(os.path.relpath(os.path.join(base, file), folder)
                   for base, _, files in os.walk(folder) for file in files if file.endswith(".boat"))
    done = run(["format", "--check"] + found, folder)
    report("the specs of the project are laid out", None if done.returncode == 0 else done.stdout.decode())
    for name in [f for f in found if "/" not in f or os.path.basename(f)[:-5] == os.path.dirname(f)]:
        own = [f for f in found if os.path.dirname(f) == os.path.dirname(name) and (f == name or "/" in f)]
        check(name, folder, own)
        report(f"{name} fits", fits(own, folder))


def check_starter(parent):
    with open(os.path.join(parent, "starter.boat"), "wb") as file:
        file.write(run(["new", "tern"], parent).stdout)
    check("starter.boat", parent, ["starter.boat"])


def check_documents(parent):
    for page in ["docs/language.md", "README.md"]:
        prelude = ""
        text = read(os.path.join(ROOT, page)).decode()
        for number, match in enumerate(re.finditer(r"^```(boat.*)\n((?:.*\n)*?)```$", text, re.M)):
            words = match[1].split()
            if "prelude" in words:
                prelude = match[2]
            whole = re.search(r"^\s*boat ", match[2], re.M)
            name = f"{page.replace('/', '-')}-{number}.boat"
            with open(os.path.join(parent, name), "w", encoding="utf-8") as file:
                file.write(match[2] if whole else match[2] + prelude)
            check(name, parent, [name])


def check_wrong(parent):
    folder = os.path.join(parent, "wrong")
    shutil.copytree(os.path.join(ROOT, "tests", "wrong"), folder)
    for name in sorted(os.listdir(folder)):
        if name.endswith(".boat"):
            check(name, folder, [name])


def main():
    with tempfile.TemporaryDirectory() as parent:
        check_specs(parent)
        check_starter(parent)
        check_documents(parent)
        check_wrong(parent)
    if failed:
        print(f"[  FAILED  ] {failed} test(s).")
    print(f"[  PASSED  ] {passed} test(s).")
    return 1 if failed or passed < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
