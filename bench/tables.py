#!/usr/bin/env python3
"""Tables of docs/performance.md from the JSON of hardchine_bench.

usage: tables.py [--page PAGE] LABEL=FILE...
Prints them, or puts them into PAGE between its two marker comments. A label is a column, such as "g++ AVX2".
"""

import json
import pathlib
import sys

BEGIN = "<!-- tables: written by bench/run -->"
END = "<!-- end of tables -->"

# Ratio, rows divided, targets by instruction set (the rest: as with AVX2), sense.
RATIOS = [
    ("scalar / bare_double", "equilibrium/scalar", "equilibrium/bare_double", {"AVX2": 1.03}, "at most"),
    ("nested_textbook / scalar", "equilibrium/nested_textbook", "equilibrium/scalar", {"AVX2": 30}, "at least"),
    ("nested_textbook / lanes", "equilibrium/nested_textbook", "equilibrium/lanes",
     {"AVX2": 180, "AVX-512": 350, "none": 100}, "at least"),
    ("gradient8 / scalar", "equilibrium/gradient8", "equilibrium/scalar", {"AVX2": 1.6}, "at most"),
    ("lanes / one_evaluation", "equilibrium/lanes", "equilibrium/one_evaluation", {"AVX2": 2.5}, "at most"),
    ("closed_scalar / scalar", "equilibrium/closed_scalar", "equilibrium/scalar", {"AVX2": 2.0}, "at most"),
    ("closed_lanes / lanes", "equilibrium/closed_lanes", "equilibrium/lanes", {"AVX2": 2.0}, "at most"),
    ("batch of 1e6 / batch of 1e3", "batch/1e6", "batch/1e3", {"AVX2": 1.05}, "at most"),
    ("one thread / two threads", "threads/1", "threads/2", {"AVX2": 1.8}, "at least"),
]


def medians(path):
    """Median ns_per_case and the other counters of each row, by name."""
    rows = {}
    for entry in json.loads(pathlib.Path(path).read_text())["benchmarks"]:
        if entry.get("aggregate_name") == "median":
            rows[entry["run_name"]] = entry
    return rows


def number(x):
    return f"{x:.3g}" if x < 10 else f"{x:.1f}" if x < 1000 else f"{x:.0f}"


def table(head, lines):
    yield "| " + " | ".join(head) + " |"
    yield "|" + "|".join(["---"] + ["---:"] * (len(head) - 1)) + "|"
    for line in lines:
        yield "| " + " | ".join(line) + " |"


def ratio_lines(columns):
    for name, above, below, targets, sense in RATIOS:
        line = [name, " / ".join(f"{value:g} ({instructions})" if len(targets) > 1 else f"{value:g}"
                                 for instructions, value in targets.items())]
        line[1] = f"{sense} {line[1]}"
        for label, rows in columns.items():
            if above not in rows or below not in rows:
                line.append("")
                continue
            ratio = rows[above]["ns_per_case"] / rows[below]["ns_per_case"]
            target = targets.get(label.split()[-1], targets["AVX2"])
            met = ratio <= target if sense == "at most" else ratio >= target
            line.append(number(ratio) if met else f"**{number(ratio)}**")
        yield line


def row_lines(columns):
    names = {name: None for rows in columns.values() for name in rows}
    for name in sorted(names):
        yield [f"`{name}`"] + [number(rows[name]["ns_per_case"]) if name in rows else "" for rows in columns.values()]


def memory_lines(columns):
    for name in ("batch/1e3", "batch/1e6"):
        for counter in ("allocations_per_batch", "allocated_bytes_per_batch"):
            line = [f"`{name}` {counter}"]
            line += [number(rows[name][counter]) if counter in rows.get(name, {}) else "" for rows in columns.values()]
            if any(line[1:]):
                yield line


def main():
    arguments = sys.argv[1:]
    page = None
    if arguments[:1] == ["--page"]:
        page = pathlib.Path(arguments[1])
        arguments = arguments[2:]
    about = [a.removeprefix("about=") for a in arguments if a.startswith("about=")]
    columns = {label: medians(path) for label, path in (a.split("=", 1) for a in arguments if not a.startswith("about="))}
    labels = list(columns)
    lines = [*about, ""] if about else []
    lines += ["Ratios of the medians of `ns_per_case`; a target missed is bold.", ""]
    lines += table(["ratio", "target"] + labels, ratio_lines(columns))
    lines += ["", "Nanoseconds a case, medians.", ""]
    lines += table(["row"] + labels, row_lines(columns))
    memory = list(memory_lines(columns))
    if memory:
        lines += ["", "Memory.", ""]
        lines += table(["counter"] + labels, memory)
    text = "\n".join(lines)
    if page is None:
        print(text)
        return
    old = page.read_text()
    if BEGIN not in old or END not in old:
        sys.exit(f"{page}: the marker comments are not there")
    page.write_text(old[: old.index(BEGIN) + len(BEGIN)] + "\n" + text + "\n" + old[old.index(END):])


main()
