// Day sheets: an A4 sheet a giornata, front and back, for the plasterer and the painter on the deck.
#pragma once

#include <string>

#include "engine/base/progress.h"
#include "engine/cartoon/cartoon.h"

namespace pontata {

class Pages;
class Registers;
struct PrintJob;

// Pages in working order: the day's steps counted back from the first paint with room for the clock, area and litres,
// batches and their weight on the deck, which edges meet finished work and which stay open, a sketch of the place on
// the wall, and the cautions in full; on the back how the sheet is hung. Only the giornate of `input.only`, when it
// names any.
Outcome write_day_sheets(const CartoonInput& input, Registers& registers, const std::string& path,
                         Progress* progress = nullptr);

// The front of one of them, a page; the back is draw_hanging_sheet (hanging_sheet.h).
void draw_day_sheet(Pages& pages, const CartoonInput& input, const PrintJob& job);

// The cautions, a line each, as printed on every day sheet. Sources: safety data sheets of calcium hydroxide (Danger;
// H315, H318, H335); 29 CFR 1926.1153 for respirable silica; the rest common practice, no source.
std::span<const std::string_view> cautions();

// The caution of a wall on which old plaster or paint lies: in full on each of its day sheets, above the others, and in
// reports about the wall. Common practice, no source.
std::string_view old_plaster_caution();

}  // namespace pontata
