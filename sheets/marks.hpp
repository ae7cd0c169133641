// Signs that stand beside the words: a shape for each grade, boxes to tick, lines to write on, the
// QR code.
#pragma once

#include <string>
#include <string_view>

#include "sheets/canvas.hpp"

namespace bellhole::sheets {

/// Least side of a box that a gloved hand ticks.
inline constexpr double tick_side = 6.0 * points_per_mm;

/// Octagon for halt, diamond for undecided, triangle for warn, circle for info and for nothing
/// found.
void grade_mark(Canvas& canvas, const Box& box, std::string_view grade);
/// "HALT", "UNDECIDED", "WARNING", "NOTE", "NOTHING FOUND AGAINST IT".
std::string grade_word(std::string_view grade);

void tick_box(Canvas& canvas, Point upper_left);
/// A line to write on under a fine label; answers the height used.
double write_line(Canvas& canvas, const Box& box, const Text& label);
/// Upright name of a shut-off: its letter, white in a black disc.
void letter_mark(Canvas& canvas, Point centre, double radius, const std::string& letter);

/// Draws `says`, in capitals, as a QR code with its quiet border. A text too long for a code draws
/// nothing and answers false.
bool qr(Canvas& canvas, const Box& box, const std::string& says);

}  // namespace bellhole::sheets
