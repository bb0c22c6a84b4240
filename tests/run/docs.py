"""
Checks the documents against the program; run by docs.sh.

    reference.md, rules.md, figures.md   equal what the program prints
    ```boat                              compiles without a mistake, together with the page's ```boat prelude unless it
                                         states a boat of its own
                                         and, on the page of the language, without a fault
    ```boat faults                       has faults by the program's own rules, and the text beside it says so
    ```boat wrong                        gives the mistakes that stand in the ```text block after it, and no others
    <!-- output of: COMMAND -->          what stands in the block after it is what the command prints, both streams; commands of
                                         one page run one after the other in one folder, in which `specs` are those of the project
    <!-- first: COMMAND -->              is run before, for what it leaves in that folder
    ```grammar                           holds every production that the parser's sources show
    links                                lead to a file and a heading that are there
    computing.md                         names every figure

With ACCEPT=1 pages and blocks that are out of date are rewritten instead, to be read in the difference.
"""
import os
import re
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
GARBOARD = os.environ.get("GARBOARD") or os.path.join(ROOT, "build", "garboard")
ACCEPT = os.environ.get("ACCEPT") == "1"
PAGES = ["README.md", "DEVELOPERS.md", "docs/language.md", "docs/computing.md", "docs/rules.md", "docs/git.md"]
GENERATED = {
    "docs/reference.md": ["kinds", "--format", "markdown"],
    "docs/rules.md": ["rules", "--format", "markdown"],
    "docs/figures.md": ["kinds", "figures", "--format", "markdown"],
}
GRAMMAR_SOURCES = ["compiler/syntax/parse.c", "compiler/model/quantity.c", "compiler/model/amount.c"]
TODAY = "1803859200"  # 2027-03-01, so that no page depends on the day on which it is tested

passed = 0
failed = 0


def report(name, complaint):
    """One test: no complaint is a pass."""
    global passed, failed
    if complaint is None:
        passed += 1
        print(f"[       OK ] {name}")
    else:
        failed += 1
        print(f"[  FAILED  ] {name}\n{complaint}")


def read(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return file.read()


def write(path, text):
    with open(os.path.join(ROOT, path), "w", encoding="utf-8", newline="") as file:
        file.write(text)


def run(arguments, folder, shell=False):
    """What a command prints on both streams, and its exit status."""
    environment = dict(os.environ, SOURCE_DATE_EPOCH=TODAY, PATH=folder + "/.bin:" + os.environ["PATH"])
    environment.pop("NO_COLOR", None)
    done = subprocess.run(arguments, cwd=folder, shell=shell, env=environment, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=300, check=False)
    return done.stdout.decode("utf-8", "replace"), done.returncode


def folder_for(parent, page):
    """A folder in which `garboard` is the program, and `specs` are those of the project."""
    folder = os.path.join(parent, page.replace("/", "-"))
    os.makedirs(folder + "/.bin")
    os.symlink(GARBOARD, folder + "/.bin/garboard")
    os.symlink(os.path.join(ROOT, "specs"), folder + "/specs")
    return folder


class Block:
    """A fenced block: its info string, its text, where it stands, the command whose output it is, and what is run before."""

    def __init__(self, info, text, line, start):
        self.info, self.text, self.line, self.start = info, text, line, start
        self.command = self.first = None


def blocks_of(text):
    """The fenced blocks of a page; `start` is the offset of a block's text."""
    found = []
    fence = re.compile(r"^```(.*)\n((?:.*\n)*?)```$", re.M)
    for match in fence.finditer(text):
        before = text[: match.start()].rstrip("\n").rsplit("\n", 1)[-1]
        command = re.fullmatch(r"<!-- output of: (.*) -->", before)
        first = re.search(r"<!-- first: (.*) -->\n<!-- output of: .* -->\n?$", text[: match.start()])
        line = text.count("\n", 0, match.start()) + 1
        found.append(Block(match[1].strip(), match[2], line, match.start(2)))
        found[-1].command = command and command[1]
        found[-1].first = first and first[1]
    return found


def differ(expected, actual):
    return None if expected == actual else f"---- on the page\n{expected}---- printed now\n{actual}----"


def told_of(output, name, kind):
    """The mistakes, or faults, in what `check` printed: each message with its drawing, up to the next message or a blank line."""
    kept = []
    keeping = False
    for line in output.split("\n"):
        if line.startswith(name + ":"):
            keeping = f": {kind}: " in line
        elif not line.startswith(" "):
            keeping = False
        if keeping:
            kept.append(line)
    return "".join(line + "\n" for line in kept)


class Page:
    def __init__(self, path, parent):
        self.path = path
        self.text = read(path)
        self.folder = folder_for(parent, path)
        self.prelude = ""
        self.edits = []

    def name(self, block):
        return f"{self.path}:{block.line}"

    def replace(self, block, text):
        self.edits.append((block.start, block.start + len(block.text), text))

    def check_spec(self, block, following):
        whole = re.search(r"^\s*boat ", block.text, re.M) is not None
        spec = block.text if whole else block.text + self.prelude
        with open(self.folder + "/wren.boat", "w", encoding="utf-8") as file:
            file.write(spec)
        output, status = run(["garboard", "check", "wren.boat", "--color", "never"], self.folder)
        told = told_of(output, "wren.boat", "mistake")
        words = block.info.split()
        faults = told_of(output, "wren.boat", "fault") if self.path == "docs/language.md" else ""
        if status not in (0, 1) or not output:
            report(self.name(block), f"exit status {status}\n{output}")
        elif "faults" in words:
            report(self.name(block), told or (None if faults else "marked with faults, and has none"))
        elif "wrong" not in words:
            report(self.name(block), f"{told}{faults}" if told or faults else None)
        elif following is None or following.info != "text":
            report(self.name(block), "a block marked wrong is followed by a ```text block with its message")
        elif not told:
            report(self.name(block), "nothing is wrong with it")
        elif ACCEPT and told != following.text:
            self.replace(following, told)
        else:
            report(self.name(block), differ(following.text, told))

    def check_output(self, block):
        if block.first:
            told, status = run(block.first, self.folder, shell=True)
            report(f"{self.name(block)} first: {block.first}", told if status != 0 else None)
        output, _ = run(block.command, self.folder, shell=True)
        output = output.replace("\r\n", "\n")  # as CSV ends its lines, and a page does not
        if ACCEPT and output != block.text:
            self.replace(block, output)
        else:
            report(f"{self.name(block)} {block.command}", differ(block.text, output))

    def check(self):
        blocks = blocks_of(self.text)
        for block, following in zip(blocks, blocks[1:] + [None]):
            words = block.info.split()
            if words[:1] == ["boat"]:
                if "prelude" in words:
                    self.prelude = block.text
                self.check_spec(block, following)
            elif block.command:
                self.check_output(block)
        for start, end, text in reversed(self.edits):
            self.text = self.text[:start] + text + self.text[end:]
        if self.edits:
            write(self.path, self.text)
            print(f"rewritten: {self.path}, {len(self.edits)} block(s)")


def check_generated(folder):
    for path, arguments in GENERATED.items():
        output, status = run(["garboard"] + arguments, folder)
        current = read(path) if os.path.exists(os.path.join(ROOT, path)) else ""
        if status == 0 and ACCEPT and output != current:
            write(path, output)
            print(f"rewritten: {path}")
            continue
        stale = f"stale: `garboard {' '.join(arguments)} >{path}`" if output != current else None
        report(path, output if status != 0 else stale)


def productions(text):
    """`name = ...` in comments, blanks made even."""
    found = {}
    for comment in re.findall(r"/\*(.*?)\*/", text, re.S):
        for line in re.sub(r"\n \*", "\n", comment).split("\n"):
            match = re.match(r"\s*([a-z]+)\s+=\s+(.*)", line)
            if match and re.search(r'["{|]', match[2]) and match[1] not in found:
                found[match[1]] = re.sub(r"\s{2,}.*", "", match[2].strip())
    return found


def check_grammar():
    blocks = [b for b in blocks_of(read("docs/language.md")) if b.info == "grammar"]
    page = re.sub(r"\s+", " ", " ".join(b.text for b in blocks))
    for source in GRAMMAR_SOURCES:
        for name, right in productions(read(source)).items():
            wanted = f"{name} = " + re.sub(r"\s+", " ", right)
            report(f"grammar: {name}", None if wanted in page else f"docs/language.md lacks `{wanted}` of {source}")


def anchors_of(text):
    """What links may say after `#`: written anchors, and what viewers derive from headings."""
    found = set(re.findall(r'<a id="([^"]+)">', text))
    prose = re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S)
    for heading in re.findall(r"^#+ (.*)$", prose, re.M):
        found.add(re.sub(r"[^a-z0-9 _-]", "", heading.lower()).replace(" ", "-"))
    return found


def check_links(path):
    prose = re.sub(r"^```.*?^```$", "", read(path), flags=re.M | re.S)
    for target in sorted(set(re.findall(r"\]\(([^)\s]+)\)", prose))):
        if re.match(r"[a-z]+:", target):
            continue
        file, _, anchor = target.partition("#")
        there = os.path.normpath(os.path.join(os.path.dirname(path), file)) if file else path
        if not os.path.exists(os.path.join(ROOT, there)):
            report(f"{path}: link {target}", "there is no such file")
        elif anchor and anchor not in anchors_of(read(there)):
            report(f"{path}: link {target}", "there is no such heading")
        else:
            report(f"{path}: link {target}", None)


def check_figures_told():
    text = read("docs/computing.md")
    for name in re.findall(r'^FIGURE\(\w+, "([^"]+)"', read("compiler/figures/figures.def"), re.M):
        report(f"docs/computing.md: {name}", None if f"`{name}`" in text else "the page does not say how it is computed")


def main():
    with tempfile.TemporaryDirectory() as parent:
        check_generated(folder_for(parent, "generated"))
        for path in PAGES:
            Page(path, parent).check()
    check_grammar()
    check_figures_told()
    for path in sorted(set(PAGES) | set(GENERATED)):
        check_links(path)
    print(f"[  PASSED  ] {passed} test(s).")
    if failed:
        print(f"[  FAILED  ] {failed} test(s).")
    return 1 if failed or not passed else 0


sys.exit(main())
