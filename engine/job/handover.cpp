#include "job/handover.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bellhole::job {
namespace {

constexpr std::size_t most_lines = 4, most_words = 24;
/// Of reading aloud: an easy pace, common practice of broadcasters.
constexpr double seconds_a_word = 60.0 / 150.0;

std::string named(const std::string& id) { return id.empty() ? "nobody named" : id; }

/// The first words of a sentence.
std::string shortened(const std::string& text) {
  std::size_t at = 0;
  for (std::size_t words = 0; words < most_words; ++words) {
    at = text.find(' ', at);
    if (at == std::string::npos) return text;
    ++at;
  }
  return text.substr(0, at) + "…";
}

void put(Handover& out, std::string head, std::vector<std::string> says, std::string otherwise) {
  if (says.empty()) says.push_back(std::move(otherwise));
  const std::size_t more = says.size() > most_lines ? says.size() - most_lines : 0;
  if (more > 0) {
    says.resize(most_lines);
    says.push_back(fmt::format("and {} more", more));
  }
  for (std::string& line : says) {
    line = shortened(line);
    out.words += static_cast<std::size_t>(std::ranges::count(line, ' ')) + 1;
  }
  out.words += static_cast<std::size_t>(std::ranges::count(head, ' ')) + 1;
  out.lines.push_back({std::move(head), std::move(says)});
}

std::string shutoff_line(const ShutoffState& shutoff) {
  const Act& last = shutoff.acts.back().what;
  std::string line = fmt::format(
      "{} {} since {} by {}", shutoff.letter, shutoff.shut() ? "shut" : to_string(last.did),
      local_clock(shutoff.acts.back().stamp.happened_at), named(shutoff.acts.back().stamp.by));
  if (shutoff.planned && !shutoff.planned->place.empty()) line += ", " + shutoff.planned->place;
  if (shutoff.found) line += ", " + pipe_words(shutoff.found->what.found);
  return line;
}

std::string value_of(const Reading& reading, units::System units) {
  switch (reading.scale) {
    case Scale::gauge:
      return units::print(GaugePressure::from_si(reading.si), units);
    case Scale::absolute:
      return units::print(AbsolutePressure::from_si(reading.si), units);
    case Scale::temperature:
      return units::print(Temperature::from_si(reading.si), units);
    case Scale::gas:
      return fmt::format("{:.1f} % gas", 100 * reading.si);
    case Scale::lel:
      break;
  }
  return fmt::format("{:.0f} % of the explosive limit", 100 * reading.si);
}

/// The last reading at each point, the latest first.
std::vector<std::string> pressures(const State& state, units::System units) {
  std::vector<const Said<Reading>*> last;
  for (const auto& reading : state.readings) {
    std::erase_if(last, [&](const auto* one) { return one->what.point == reading.what.point; });
    last.push_back(&reading);
  }
  std::vector<std::string> lines;
  for (auto one = last.rbegin(); one != last.rend(); ++one)
    lines.push_back(fmt::format("{} {} at {}", (*one)->what.point, value_of((*one)->what, units),
                                local_clock((*one)->stamp.happened_at)));
  return lines;
}

std::vector<std::string> worries(const State& state) {
  std::vector<std::string> lines;
  const Gate gate = !state.cut() ? Gate::cut : Gate::open_after_cut;
  const Findings reasons = gate_reasons(state, gate);
  if (!reasons.empty())
    lines.push_back(
        fmt::format("{} stand{} before {}; first: {}",
                    reasons.size() == 1 ? "1 thing" : fmt::format("{} things", reasons.size()),
                    reasons.size() == 1 ? "s" : "", gate == Gate::cut ? "the cut" : "opening",
                    reasons.front().says));
  for (const Conflict& conflict : state.conflicts)
    lines.push_back("not settled: " + conflict.about);
  for (auto note = state.notes.rbegin(); note != state.notes.rend() && lines.size() < most_lines;
       ++note)
    lines.push_back(note->what.says);
  return lines;
}

}  // namespace

Handover handover(const State& state, units::System units) {
  Handover out;
  put(out, "Job",
      state.opened
          ? std::vector<std::string>{fmt::format(
                "{}, {}, {} work", state.opened->what.title,
                state.opened->what.place.empty() ? "place not given" : state.opened->what.place,
                to_string(state.opened->what.work))}
          : std::vector<std::string>{},
      "not opened");
  std::vector<std::string> shut, acts;
  for (const ShutoffState& shutoff : state.shutoffs)
    if (!shutoff.acts.empty()) shut.push_back(shutoff_line(shutoff));
  put(out, "Shut-offs", std::move(shut), "nothing is recorded shut");
  for (const auto& act : state.acts)
    if (act.what.did == Did::cut)
      acts.push_back(
          fmt::format("cut at {} by {}", local_clock(act.stamp.happened_at), named(act.stamp.by)));
  put(out, "Main", std::move(acts), "not cut");
  put(out, "Last readings", pressures(state, units), "none");
  std::vector<std::string> next;
  for (const StepState& step : state.steps)
    if (!step.behind() && next.empty()) next.push_back(step.step.id + ": " + step.step.does);
  put(out, "Next step", std::move(next),
      state.plan ? "all steps are answered" : "no plan is on the table");
  put(out, "Look to", worries(state), "nothing found against it in the log");
  out.read_aloud = Duration::from_si(seconds_a_word * static_cast<double>(out.words));
  return out;
}

}  // namespace bellhole::job
