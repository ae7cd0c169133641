#include <array>

#include "job/event.hpp"

namespace bellhole::job {
namespace {

template <class E, std::size_t N>
std::string_view word(const std::array<std::string_view, N>& words, E which) {
  return words[static_cast<std::size_t>(which)];
}

constexpr std::array<std::string_view, 27> kinds{
    "opened",      "planned", "plan_accepted", "pipe_found", "joined",    "left",   "qualified",
    "instrument",  "kit",     "prompt",        "step",       "reading",   "bars",   "act",
    "gate_passed", "signed",  "handed_over",   "tested",     "purged",    "meter",  "laid",
    "result",      "photo",   "note",          "closed",     "corrected", "unknown"};
static_assert(kinds.size() == std::variant_size_v<AnyFact>);

}  // namespace

std::string_view to_string(Source source) {
  return word(std::array<std::string_view, 4>{"tapped", "typed", "sensor", "imported"}, source);
}
std::string_view to_string(Work work) {
  return word(std::array<std::string_view, 3>{"planned", "emergency", "drill"}, work);
}
std::string_view to_string(Did did) {
  return word(std::array<std::string_view, 5>{"shut", "undone", "cut", "opened", "put_back"}, did);
}
std::string_view to_string(Gate gate) {
  return word(std::array<std::string_view, 3>{"cut", "open_after_cut", "put_back"}, gate);
}
std::string_view to_string(Answer answer) {
  return word(std::array<std::string_view, 4>{"yes", "no", "not_needed", "unknown"}, answer);
}
std::string_view to_string(Scale scale) {
  return word(std::array<std::string_view, 5>{"gauge", "absolute", "temperature", "gas", "lel"},
              scale);
}
std::string_view to_string(Meter::Did did) {
  return word(std::array<std::string_view, 3>{"off", "on", "not_home"}, did);
}
std::string_view kind_of(const AnyFact& fact) {
  if (const auto* unknown = std::get_if<Unknown>(&fact)) return unknown->kind;
  return kinds[fact.index()];
}

}  // namespace bellhole::job
