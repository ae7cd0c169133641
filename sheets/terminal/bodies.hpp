// The bodies of replies, one file a question: body_squeeze.cpp and so on. Each takes a reply
// document that its question wrote and answers lines that end in a newline; it prints what stands
// there and computes nothing.
#pragma once

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "units/print.hpp"

namespace bellhole::sheets {

using Json = nlohmann::json;

/// The quantity under key + suffix of its kind; prints "not known" where it is null or missing.
template <class Kind>
std::string shown(const Json& object, std::string_view key, units::System system,
                  units::Toward toward = units::Toward::nearest) {
  const auto found = object.find(std::string(key) + std::string(Kind::suffix));
  const double si = found != object.end() && found->is_number()
                        ? found->template get<double>()
                        : std::numeric_limits<double>::quiet_NaN();
  return units::print(Quantity<Kind>::from_si(si), system, toward);
}

/// What stands under a key; null where nothing does.
const Json& at(const Json& object, std::string_view key);

/// A text under a key, or `otherwise` where it is null, missing or empty.
std::string word(const Json& object, std::string_view key, std::string_view otherwise = "");

/// Breaks text at blanks to the width of a terminal, each further line after `indent` blanks; the
/// first line starts with `lead`. Ends in a newline.
std::string wrapped(std::string_view lead, std::string_view text, std::size_t indent);

/// Posts, gauges and steps of one plan; empty where it has none.
std::string steps_text(const Json& plan, units::System system);

/// Minutes against customers of an emergency; empty where the reply has no front.
std::string front_text(const Json& reply, units::System system);

/// What leaves before and after each closing, of an escape or a rehearsal.
std::string stages_text(const Json& reply, units::System system);

std::string squeeze_body(const Json& reply, units::System system);
std::string pace_body(const Json& reply, units::System system);
std::string feeds_body(const Json& reply, units::System system);
std::string flow_body(const Json& reply, units::System system);
std::string plan_body(const Json& reply, units::System system);
std::string check_body(const Json& reply, units::System system);
std::string time_left_body(const Json& reply, units::System system);
std::string rehearse_body(const Json& reply, units::System system);
std::string bypass_body(const Json& reply, units::System system);
std::string watch_body(const Json& reply, units::System system);
std::string escape_body(const Json& reply, units::System system);
std::string vent_body(const Json& reply, units::System system);
/// What pace_body() puts below the timetable; empty without a recording.
std::string recording_body(const Json& reply, units::System system);
std::string pressure_test_body(const Json& reply, units::System system);
std::string purge_body(const Json& reply, units::System system);
std::string join_body(const Json& reply, units::System system);
std::string repressurise_body(const Json& reply, units::System system);
std::string relight_body(const Json& reply, units::System system);
std::string timeline_body(const Json& reply, units::System system);
std::string job_state_body(const Json& reply, units::System system);
std::string job_audit_body(const Json& reply, units::System system);
std::string job_handover_body(const Json& reply, units::System system);
std::string job_verify_body(const Json& reply, units::System system);
std::string job_plan_body(const Json& reply, units::System system);
std::string job_radio_body(const Json& reply, units::System system);
std::string job_new_body(const Json& reply, units::System system);
std::string job_taken_body(const Json& reply, units::System system);
std::string job_export_body(const Json& reply, units::System system);
std::string job_list_body(const Json& reply, units::System system);
std::string flatten_body(const Json& reply, units::System system);
std::string gauge_body(const Json& reply, units::System system);
std::string refit_body(const Json& reply, units::System system);
std::string print_line_body(const Json& reply, units::System system);
std::string pipes_body(const Json& reply, units::System system);
std::string register_body(const Json& reply, units::System system);

}  // namespace bellhole::sheets
