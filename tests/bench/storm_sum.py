#!/usr/bin/env python3
"""Adds up what the shards of bench_storm left: storm_sum.py FOLDER/shard_*_of_*.json"""
import collections
import json
import sys


def percentile(values, share):
    values = sorted(values)
    return values[int(share * (len(values) - 1))] if values else 0


def main(paths):
    steps = {"undo", "redo", "reload"}
    rows = collections.defaultdict(lambda: collections.Counter())
    sizes, kinds, refusals, faults = collections.defaultdict(list), collections.defaultdict(collections.Counter), collections.Counter(), []
    for path in paths:
        shard = json.load(open(path))
        faults += shard["faults"] or []
        for wall, tally in (shard.get("walls") or {}).items():
            row = rows[wall]
            for kind, (made, refused, missed) in tally["kinds"].items():
                kinds[kind].update(made=made, refused=refused, missed=missed)
                row.update(edits=0 if kind in steps else made, refused=refused, missed=missed)
            row.update({k: tally[k] for k in ("clipped", "by_polygons", "whole_checks", "texts", "reloads", "depths",
                                              "again", "below_least", "edit_s", "check_s", "seconds")})
            row["most_seams"] = max(row["most_seams"], tally["most_seams"])
            sizes[wall] += tally["step_bytes"]
            refusals.update(tally["refusals"])
    print(f"{len(paths)} shards")
    print("wall        edits  refused   missed   clipped  polygons   whole  texts  depths   again  median B    p95 B"
          "  edit ms   all ms")
    total = collections.Counter()
    for row in rows.values():
        total.update(row)
    everything = [b for s in sizes.values() for b in s]
    for name, row in [*sorted(rows.items()), ("all", total)]:
        of = sizes[name] if name in sizes else everything
        tried = max(1, row["edits"] + row["refused"])
        print(f"{name:8} {row['edits']:8} {row['refused']:8} {row['missed']:8} {row['clipped']:9} "
              f"{row['by_polygons']:9} {row['whole_checks']:7} {row['texts']:6} {row['depths']:7} {row['again']:7} "
              f"{percentile(of, 0.5):9} {percentile(of, 0.95):8} {1e3 * row['edit_s'] / tried:8.2f} "
              f"{1e3 * row['seconds'] / tried:8.2f}")
    print("\nkind            made  refused   missed")
    for kind, count in sorted(kinds.items()):
        print(f"{kind:14} {count['made']:6} {count['refused']:8} {count['missed']:8}")
    print("\nrefused most often")
    for words, count in refusals.most_common(25):
        print(f"{count:7}  {words}")
    print(f"\nmoves that left a giornata under 1 cm2: {total['below_least']}")
    for fault in faults:
        print("BROKEN", fault)
    print(f"{len(faults)} broken")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
