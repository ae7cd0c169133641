// The sections of a run sheet. Each draws or sets one of them from its part of the reply; the order
// stands in run_sheet.cpp.
#pragma once

#include "sheets/flow.hpp"
#include "sheets/options.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// What the sections share: the document, the plan of it that is printed (false: there is none),
/// the units.
struct RunJob {
  const Reply& reply;
  const Reply& plan;
  Options options;
};

/// Shutting in an emergency is never held up by this sheet.
bool emergency(const RunJob& job);

// Front: drawn as blocks, so that the map can take what they leave.
double draw_title(Canvas& canvas, const Box& at, const RunJob& job);
double draw_limits(Canvas& canvas, const Box& at, const RunJob& job);
double draw_shutoff(Canvas& canvas, const Box& at, const Reply& shutoff, const RunJob& job);
double draw_equipment(Canvas& canvas, const Box& at, const RunJob& job);

// Set in the flow.
void set_posts(Flow& flow, const RunJob& job);
void set_kit(Flow& flow, const RunJob& job);
/// Each hole to scale; both ways where one squeeze or two is undecided.
void set_holes(Flow& flow, const RunJob& job);
/// An emergency's plans, minutes against customers; nothing where the reply has none.
void set_front_of_plans(Flow& flow, const RunJob& job);
/// Every step as one line with a box, for the back of the first page. Nothing where the reply has
/// none.
void set_steps_card(Flow& flow, const RunJob& job);
/// One block a step. Nothing where the reply has none.
void set_steps(Flow& flow, const RunJob& job);
/// Test, joints, purge and gas back, on a page of their own. Nothing where the reply has none.
void set_putback(Flow& flow, const RunJob& job);
void set_if_it_fails(Flow& flow, const RunJob& job);
void set_customers(Flow& flow, const RunJob& job);
void set_plans(Flow& flow, const RunJob& job);
void set_reasons(Flow& flow, const RunJob& job);
void set_not_checked(Flow& flow, const RunJob& job);
void set_passed_over(Flow& flow, const RunJob& job);
void set_inputs(Flow& flow, const RunJob& job);

/// "46.20279° N, 38.98726° W", or "" for a place without.
std::string degrees(const Reply& place);
/// "main M-5 at 59.1 ft", a place on a main in the units asked for.
std::string place_on(const std::string& pipe, std::optional<double> station_m,
                     units::System system);
/// What a crew does at a shut-off, in the units of the sheet: "Squeeze M-5 at 59.1 ft, Bakers Row".
std::string order_words(const Reply& shutoff, units::System system);
/// Where the work is: "main M-5 at 59.1 ft, Bakers Row", or the reply's own words for a node or an
/// area.
std::string work_words(const RunJob& job);
/// "PE", "cast iron", "material not known".
std::string material_words(std::string material);
/// "IPS 4 DR 11.5 PE2708, 1998": figures, never rounded.
std::string pipe_words(const Reply& pipe);

}  // namespace bellhole::sheets
