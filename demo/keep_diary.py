#!/usr/bin/env python3
"""Invents what the painter of the chapel wrote down on the first days: a line for each giornata, in working order.

Usage: keep_diary.py CALENDAR.json WEATHER.csv DAYS   prints `id date hours laying window temperature humidity air`.
The painter is a tenth slower than the plan has it, give or take; the plaster stays wet a little longer.
"""
import csv
import json
import random
import sys


def weather(path):
    with open(path, encoding="utf-8") as f:
        rows = csv.DictReader(line for line in f if not line.startswith("#"))
        return {row["date"]: row for row in rows}


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        days = json.load(f)["giornate"]
    air = weather(sys.argv[2])
    chance = random.Random(7)
    for day in days[: int(sys.argv[3])]:
        met = air[day["date"]]
        hours = day["hours"] * 1.1 * chance.uniform(0.9, 1.1)
        window = 10.5 * (1 + 0.02 * (18 - float(met["temperature"]))) * chance.uniform(0.95, 1.05)
        print(day["id"], day["date"], "%.1f" % hours, "%.1f" % chance.uniform(0.8, 1.6), "%.1f" % window,
              met["temperature"], met["humidity"], met["air"])


if __name__ == "__main__":
    main()
