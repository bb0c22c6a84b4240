"""What a finding says that it would hold with has to hold: each remedy of the rules' own examples that is a statement is set,
and the finding has to be gone, with no fault in its place. The examples are those of docs/rules.md, which docs.py holds
against what the program prints. Oracle: the program's own verdict on the spec as it tells to change it."""

import json
import os
import re
import subprocess
import sys
import tempfile

GARBOARD, RULES = sys.argv[1], sys.argv[2]


def check(path, *options):
    made = subprocess.run([GARBOARD, "check", "--format", "json", path, *options], capture_output=True, text=True)
    try:
        return json.loads(made.stdout)
    except ValueError:
        return None


def examples(text):
    rule = None
    for part in re.finditer(r"^### ([a-z0-9-]+)$|^```boat[^\n]*\n(.*?)^```", text, re.S | re.M):
        rule = part.group(1) or rule
        if part.group(2) and rule:
            yield rule, part.group(2)


def key(finding):
    return finding["rule"], finding["subject"], finding["at"]


def broken(found, faults_only):
    return {
        key(f): f["message"]
        for f in found["findings"]
        if f["state"] == "broken" and (f["severity"] == "fault" or not faults_only)
    }


def protect_with(text, subject, remedy):
    """The `protect` line of a thing with what a remedy says of it in quotes in its place; None: it says no such thing."""
    said = re.match(r"`(?:interrupts ([0-9.]+ k?A)|([0-9.]+ \w+) from source)` on its `protect`", remedy)
    line = re.search(r"\b%s\b[^{;]*\{[^{}]*?\bprotect ([^;}\n]*)" % re.escape(subject), text)
    if not said or not line:
        return None
    old = line.group(1).strip()
    if said.group(1):
        return re.sub(r" interrupts \S+ \w+", "", old) + " interrupts " + said.group(1)
    return re.sub(r"\S+ \w+ from source", said.group(2) + " from source", old)


def try_protect(path, text, rule, finding, remedy):
    """The same of a remedy that changes a part of `protect`: nothing of the finding may be left, open neither."""
    line = protect_with(text, finding["subject"], remedy)
    if line is None:
        return None
    setting = "%s.protect=%s" % (finding["subject"], line)
    after = check(path, "--set", setting)
    if after is None or after["summary"]["mistakes"] > 0:
        return "%s: %s cannot be read" % (rule, setting)
    left = [f["message"] for f in after["findings"] if key(f) == key(finding)]
    return "%s: with %s still: %s" % (rule, setting, left[0]) if left else ""


def try_remedy(path, rule, finding, remedy, before):
    """A sentence that says what is wrong with it, "" if it holds, None if it is no statement of this thing."""
    said = re.fullmatch(r"`?([a-z][a-z-]*) ([^`,;]*?)(?: or more)?`?", remedy)
    if not said:
        return None
    setting = "%s.%s=%s" % (finding["subject"], said.group(1), said.group(2))
    after = check(path, "--set", setting)
    if after is None or after["summary"]["mistakes"] > 0:
        return None
    if key(finding) in broken(after, False):
        return "%s: with %s still: %s" % (rule, setting, broken(after, False)[key(finding)])
    for other, message in broken(after, True).items():
        if other not in before:
            return "%s: with %s now: %s" % (rule, setting, message)
    return ""


def main():
    tried, wrong = 0, []
    with tempfile.TemporaryDirectory() as folder, open(RULES, encoding="utf-8") as rules:
        path = os.path.join(folder, "example.boat")
        for rule, text in examples(rules.read()):
            with open(path, "w", encoding="utf-8") as spec:
                spec.write(text)
            found = check(path)
            for finding in found["findings"] if found else []:
                for remedy in finding["remedies"] if finding["rule"] == rule else []:
                    verdict = try_protect(path, text, rule, finding, remedy)
                    if verdict is None:
                        verdict = try_remedy(path, rule, finding, remedy, broken(found, False))
                    tried += verdict is not None
                    wrong += [verdict] if verdict else []
    print("\n".join(wrong))
    print("%d remedies tried, %d do not hold" % (tried, len(wrong)))
    return 1 if wrong or tried < 50 else 0


sys.exit(main())
