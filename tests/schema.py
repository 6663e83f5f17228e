"""The schemas against every example, template and fault case, with an outside validator: schema.py PITWRIGHT.
Each file is read twice: as an editor reads YAML 1.2 (numbers and true/false have types, dates are text) and with every
value as text; both must agree with the schema.  Prints "ok schema NAME" or "FAIL schema NAME"."""
import glob, json, os, re, subprocess, sys, warnings
import jsonschema, yaml

warnings.simplefilter("ignore")
program = sys.argv[1]

# Faults that can be seen from one place of the file: the schema must refuse them, too.
EVENT_FAULTS = """bad-count bad-date-words bad-id bad-money bad-pick bad-price bad-time bad-yes-no bare-number
    base-60-time colon-in-text empty-duties entry-not-a-block half-guest missing-blocks missing-keys mixed-up-quantity
    money-as-weight no-services no-value not-a-map not-a-number only-comments supplier-terms unknown-choice unknown-key
    wrong-kind wrong-unit""".split()
CATALOG_FAULTS = "catalog-entries catalog-fault catalog-no-source catalog-section".split()


class Editor(yaml.SafeLoader):
    """Types as in the core schema of YAML 1.2."""


Editor.yaml_implicit_resolvers = {}
for tag, pattern, first in [
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
    ("int", r"^[-+]?[0-9]+$", "-+0123456789"),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", "-+0123456789."),
    ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
]:
    Editor.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), list(first))
# YAML 1.2 has no base 60 and no octal with a leading 0
Editor.add_constructor("tag:yaml.org,2002:int", lambda loader, node: int(node.value))


def unique(pairs):
    keys = [k for k, _ in pairs]
    assert len(keys) == len(set(keys)), "a name stands twice: %s" % [k for k in keys if keys.count(k) > 1]
    return dict(pairs)


def say(name, wrong):
    for line in wrong:
        print("  " + line)
    print(("FAIL" if wrong else "ok") + " schema " + name)


def faults(validator, path):
    """What is wrong with a file, in a few words; not YAML at all is wrong, too."""
    found = []
    for loader in (Editor, yaml.BaseLoader):
        try:
            with open(path, encoding="utf-8") as f:
                tree = yaml.load(f, Loader=loader)
        except (yaml.YAMLError, UnicodeDecodeError, ValueError, RecursionError):
            return ["no YAML"]
        found += ["%s: %s: %s" % (path, "/".join(map(str, e.absolute_path)), e.message[:150])
                  for e in validator.iter_errors(tree)]
    return found


validators = {}
for kind in ("event", "house", "catalog"):
    text = subprocess.run([program, "schema", kind], check=True, capture_output=True).stdout
    schema = json.loads(text, object_pairs_hook=unique)
    wrong = []
    try:
        jsonschema.Draft202012Validator.check_schema(schema)
    except jsonschema.SchemaError as e:
        wrong = [str(e)[:300]]
    used = set(re.findall(rb'"#/\$defs/([^"]*)"', text))
    made = {k.encode() for k in schema["$defs"]}
    wrong += ["no such definition: %s" % k for k in used - made]
    say(kind + "-is-a-schema", wrong)
    validators[kind] = jsonschema.Draft202012Validator(schema)

events = [p for p in sorted(glob.glob("events/*.yaml")) if not os.path.basename(p).startswith("house")] + ["templates/starter.yaml"]
events += sorted(glob.glob("tests/data/events/*.yaml"))
events += [p for p in sorted(glob.glob("tests/cases/*/event.yaml"))]
say("accepts-every-event", [f for p in events for f in faults(validators["event"], p)])
catalogs = [p for p in sorted(glob.glob("templates/*.yaml")) if not p.endswith(("starter.yaml", "starter-house.yaml"))]
catalogs += sorted(glob.glob("tests/cases/catalog/*.yaml"))
say("accepts-every-house", [f for p in sorted(glob.glob("tests/cases/*/house.yaml") + glob.glob("events/house*.yaml")) + ["templates/starter-house.yaml"] for f in faults(validators["house"], p)])
say("accepts-every-catalog", [f for p in catalogs for f in faults(validators["catalog"], p)])

say("refuses-faulty-events",
    ["accepted: " + name for name in EVENT_FAULTS if not faults(validators["event"], "tests/cases/faults/%s/event.yaml" % name)])
say("refuses-faulty-catalogs",
    ["accepted: " + name for name in CATALOG_FAULTS
     if not any(faults(validators["catalog"], p) for p in glob.glob("tests/cases/faults/%s/catalog/*.yaml" % name))])

say("refuses-a-faulty-house", [] if faults(validators["house"], "tests/cases/faults/house-both/house.yaml") else ["accepted"])

# Every field has words for the reader.
def undescribed(node, path):
    if isinstance(node, dict):
        for key, value in node.get("properties", {}).items() if isinstance(node.get("properties"), dict) else ():
            if isinstance(value, dict) and not value.get("description"):
                yield path + "/" + key
        for key, value in node.items():
            yield from undescribed(value, path + "/" + key)


say("describes-every-field", [p for v in validators.values() for p in undescribed(v.schema, "")])
