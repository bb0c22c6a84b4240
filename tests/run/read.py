"""Each property of the schema is read somewhere in the compiler, or its help says that nothing reads it: what a spec may state and
nobody looks at passes for checked. Looks for the name of each property in the sources."""
import os
import re
import sys

root = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
schema = os.path.join(root, "compiler", "language", "schema.def")
admits = "nothing reads it"

text = open(schema, encoding="utf-8").read()
rows = re.findall(r'^PROP\((\w+), (\w+), "([^"]+)"(.*?)(?=^PROP\(|^KIND\(|^/\*|\Z)', text, re.M | re.S)
sources = ""
for folder, _, names in os.walk(os.path.join(root, "compiler")):
    for name in names:
        if name.endswith((".c", ".h", ".def")) and name != "schema.def":
            sources += open(os.path.join(folder, name), encoding="utf-8").read()
named = set(re.findall(r"\bPROP_\w+", sources))

failed = []
for kind, prop, word, row in rows:
    read = f"PROP_{kind}_{prop}" in named
    if read == (admits in row):
        failed.append(f"{kind.lower()}.{word}: " + ("its help says that nothing reads it, and something does"
                                                     if read else "nothing reads it, and its help does not say so"))
for line in failed:
    print("[  FAILED  ] " + line)
print(f"[  PASSED  ] {len(rows) - len(failed)} test(s).")
if failed:
    print(f"[  FAILED  ] {len(failed)} test(s).")
sys.exit(1 if failed or len(rows) < 100 else 0)
