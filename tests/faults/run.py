"""Seeds the faults of faults.csv one at a time and says which tests notice each.

Each fault is one line of the sources changed: a sign, a constant, a comparison, an index. The
changed file is a copy beside the build tree: its objects are linked before the library, into the
test programs of its part, until one of them fails. Sources and build tree stay as they are. The
tree must be made with Ninja and hold the test programs and the tool, built from these sources.

    python tests/faults/run.py                          # all of them; an hour or two
    python tests/faults/run.py --only src/bath          # those whose file or text holds this
    python tests/faults/run.py --record                 # writes what noticed into faults.csv
    python tests/faults/run.py --open                   # those without a test and without a reason

Ends with 1 when a fault that no reason excuses is noticed by nothing, when its line is gone, or
when what it makes of it does not compile.
"""

import argparse
import csv
import html
import os
import re
import resource
import shlex
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TABLE = ROOT / "tests" / "faults" / "faults.csv"
COLUMNS = ["file", "fault", "before", "after", "noticed_by", "reason"]

# What may notice a fault, by the folder it is in; programs whose name shares a word with the file
# come first, then in this order. A pytest file runs against the tool.
PROGRAMS = {
    "src/equilibrium": """unit_equilibrium unit_equilibrium_proofs unit_equilibrium_stability
        unit_equilibrium_degenerate unit_equilibrium_solvent unit_equilibrium_rows unit_lanes
        unit_lanes_rows unit_lane_batch property_equilibrium property_lanes reference_equilibrium
        property_equilibrium_hostile property_analysis tests/cli/test_speciate.py""",
    "src/activity": """unit_activity property_activity reference_brine unit_brine unit_equilibrium
        reference_equilibrium tests/cli/test_speciate.py tests/cli/test_salts.py""",
    "src/stability": """unit_stability unit_stability_held property_stability reference_stability
        unit_casefile tests/cli/test_fields_command.py""",
    "src/path": "unit_path unit_ready_paths",
    "src/minerals": "unit_minerals",
    "src/water": "unit_water reference_water unit_equilibrium",
    "src/base": """unit_base unit_base_calendar unit_base_csv unit_base_layout
        unit_base_text_pieces unit_many_loggers unit_collection unit_dataset_reader unit_logger
        unit_bath unit_casefile tests/cli/test_output.py tests/cli/test_case.py""",
    "src/analysis": """unit_analysis unit_analysis_uncertainty reference_analysis
        property_analysis unit_casefile_sections
        tests/cli/test_speciate.py tests/cli/test_one_analysis.py tests/cli/test_case.py""",
    "src/render": """unit_base unit_casefile tests/cli/test_output.py tests/cli/test_case.py
        tests/cli/test_fields_command.py tests/cli/test_salts.py tests/cli/test_speciate.py
        tests/cli/test_store.py tests/cli/test_bath_command.py tests/cli/test_constants.py""",
    "src/numerics": """unit_polygon unit_dense unit_normal unit_lanes unit_dataset unit_store
        unit_bath_fit unit_equilibrium unit_stability property_stability property_equilibrium""",
    "src/brine": "unit_brine unit_brine_uncertainty reference_brine tests/cli/test_salts.py",
    "src/store": """unit_store unit_store_edges unit_collection unit_logger unit_logger_files
        unit_logger_order unit_logger_plain_rows property_store property_store_plain
        tests/cli/test_store.py""",
    "src/bath": """unit_bath unit_bath_log unit_bath_fit unit_bath_posterior unit_release_model
        unit_weigh_out unit_bath_chemistry reference_bath property_bath
        tests/cli/test_bath_command.py""",
    "src/casefile": """unit_casefile unit_casefile_sections tests/cli/test_case_honest.py
        tests/cli/test_case_edges.py tests/cli/test_case.py""",
    "src/dataset": """unit_dataset unit_dataset_reader unit_dataset_temperature property_dataset
        reference_dataset unit_casefile tests/cli/test_constants.py""",
    "src/uncertainty": """unit_uncertainty unit_stability reference_stability property_stability
        unit_bath_chemistry unit_analysis_uncertainty property_analysis
        tests/cli/test_fields_command.py""",
}
SEEDED_CASES = "300"
SECONDS = 300  # a program that takes longer than this hangs, which is noticed too
BYTES = 4 << 30  # ... as is one that wants more memory


@dataclass
class Fault:
    file: str
    fault: str
    before: str
    after: str
    noticed_by: str
    reason: str


def read_table() -> list[Fault]:
    with TABLE.open(encoding="utf-8", newline="") as lines:
        return [Fault(**row) for row in csv.DictReader(lines)]


def record(noticed_fault: Fault, by: str) -> None:
    """Reads the table anew: it may have been changed while the tests ran."""
    faults = read_table()
    for fault in faults:
        if (fault.file, fault.before, fault.after) == (
            noticed_fault.file,
            noticed_fault.before,
            noticed_fault.after,
        ):
            fault.noticed_by = by
    with TABLE.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows([getattr(fault, column) for column in COLUMNS] for fault in faults)


def programs_for(file: str) -> list[str]:
    folder, stem = file.rsplit("/", 1)
    words = set(stem.split(".")[0].split("_"))
    names = PROGRAMS[folder].split()
    common = {name: len(words & set(re.split(r"[_./]", name))) for name in names}
    return sorted(names, key=lambda name: (name.endswith(".py"), -common[name]))


class Tree:
    """A build tree that is only read, and a folder of changed files and what is made of them."""

    def __init__(self, build: Path, place: Path) -> None:
        self.build = build
        self.place = place

    def ninja(self, *arguments: str) -> str:
        command = ["ninja", "-C", str(self.build), *arguments]
        return subprocess.run(command, check=True, capture_output=True, text=True).stdout

    def objects_of(self, file: str, folder: str = r"aeruca(_base|_data|_words)?") -> list[str]:
        """Objects of the library, or of a test program, that a source or header goes into."""
        wanted = re.compile(rf"(.*/)?CMakeFiles/{folder}\.dir/.*\.o$")
        found, current = [], ""
        for line in self.ninja("-t", "deps").splitlines():
            if line and not line.startswith(" "):
                current = line.split(":")[0]
            elif line.strip().endswith("/" + file) and wanted.match(current):
                found.append(current)
        return found

    def compile(self, file: str, object_name: str) -> Path:
        made = self.place / object_name.replace("/", "_")
        words = shlex.split(self.ninja("-t", "commands", object_name).splitlines()[-1])
        words = words[words.index("ccache") + 1 if "ccache" in words else 0 :]
        source = words[-1]
        if source.endswith(file):
            words[-1] = str(self.place / file)
        words[words.index("-o") + 1] = str(made)
        words[words.index("-MF") + 1] = str(made) + ".d"
        words.append("-Wno-error")
        words[1:1] = ["-I", str(self.place / "include"), "-I", str(self.place / "src")]
        done = subprocess.run(words, cwd=self.build, capture_output=True, text=True)
        if done.returncode != 0:
            raise LookupError(f"{file} does not compile with the fault: {done.stderr}")
        return made

    def link(self, target: str, objects: list[Path], file: str) -> Path:
        made = self.place / target
        last = self.ninja("-t", "commands", target).splitlines()[-1]
        words = shlex.split(last.split(" && ")[1])
        words[words.index("-o") + 1] = str(made)
        for own in self.objects_of(file, target):  # a test that includes the header itself
            words[words.index(own)] = str(self.compile(file, own))
        library = words.index("libaeruca.a")
        words[library:library] = [str(each) for each in objects]
        subprocess.run(words, cwd=self.build, check=True, capture_output=True)
        return made


def keep_small() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (BYTES, BYTES))


def failures_of_catch(program: Path) -> list[str]:
    environment = os.environ | {"AERUCA_SEEDED_CASES": SEEDED_CASES}
    try:
        done = subprocess.run(
            [str(program), "-r", "xml"],
            capture_output=True,
            text=True,
            errors="replace",
            timeout=SECONDS,
            env=environment,
            preexec_fn=keep_small,
        )
    except subprocess.TimeoutExpired:
        return ["(does not end)"]
    failed, current = [], "(before the first test)"
    for line in done.stdout.splitlines():
        if named := re.search(r'<TestCase name="([^"]*)"', line):
            current = html.unescape(named.group(1))
        elif '<OverallResult success="false"' in line:
            failed.append(current)
    if done.returncode != 0 and not failed:
        failed.append(current + " (crash)")
    return failed


def failures_of_pytest(tool: Path, file: str) -> list[str]:
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", file]
    environment = os.environ | {"AERUCA_TOOL": str(tool)}
    try:
        done = subprocess.run(
            command, cwd=ROOT, capture_output=True, text=True, env=environment, timeout=SECONDS
        )
    except subprocess.TimeoutExpired:
        return ["(does not end)"]
    failed = re.findall(r"^(?:FAILED|ERROR) \S+?::(\S+)", done.stdout, re.MULTILINE)
    return failed or (["(no test ran)"] if done.returncode not in (0, 5) else [])


def noticed(tree: Tree, fault: Fault) -> str:
    """The program that notices and its first failing test; empty when none does."""
    text = (ROOT / fault.file).read_text(encoding="utf-8")
    if text.count(fault.before) != 1:
        raise LookupError(f"{fault.file} holds '{fault.before}' {text.count(fault.before)} times")
    changed = tree.place / fault.file
    changed.parent.mkdir(parents=True, exist_ok=True)
    changed.write_text(text.replace(fault.before, fault.after), encoding="utf-8")
    objects = [tree.compile(fault.file, name) for name in tree.objects_of(fault.file)]
    if not objects:
        raise LookupError(f"{fault.file} goes into no object of the library")
    for name in programs_for(fault.file):
        pytest = name.endswith(".py")
        program = tree.link("aeruca_tool" if pytest else name, objects, fault.file)
        failed = failures_of_pytest(program, name) if pytest else failures_of_catch(program)
        if failed:
            more = f" and {len(failed) - 1} more" if len(failed) > 1 else ""
            return f"{name}: {failed[0]}{more}"
    return ""


def main() -> int:
    words = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    words.add_argument("--build", type=Path, default=ROOT / "build" / "dev")
    words.add_argument("--only", default="", metavar="TEXT")
    words.add_argument("--record", action="store_true")
    words.add_argument("--open", action="store_true")
    asked = words.parse_args()
    faults = read_table()
    wanted = [fault for fault in faults if asked.only in fault.file + " " + fault.before]
    if asked.open:
        wanted = [fault for fault in wanted if not (fault.noticed_by or fault.reason)]
    wrong = 0
    for fault in wanted:
        with tempfile.TemporaryDirectory(prefix="fault-", dir=asked.build) as place:
            try:
                by = noticed(Tree(asked.build.resolve(), Path(place).resolve()), fault)
            except LookupError as gone:
                print(f"GONE      {gone}", flush=True)
                wrong += 1
                continue
        wrong += 0 if by or fault.reason else 1
        print(
            f"{'noticed ' if by else 'SURVIVES'}  {fault.file}: {fault.after}  <- {by}", flush=True
        )
        if asked.record:
            record(fault, by)
    print(f"{len(wanted)} faults, {wrong} of them gone or neither noticed nor excused")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
