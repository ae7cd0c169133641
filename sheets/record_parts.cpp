#include "sheets/record_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"

namespace bellhole::sheets {
namespace {

/// "not needed" of "not_needed".
std::string plain_words(std::string word) {
  std::ranges::replace(word, '_', ' ');
  return word;
}

std::string or_dash(const std::string& text) { return text.empty() ? "–" : paper_units(text); }

std::string measured(const Reply& reading, units::System system) {
  const std::string scale = reading.text("scale");
  if (scale == "gauge")
    return print(amounts::pressure, reading.number("pressure_pa_gauge"), system);
  if (scale == "absolute")
    return print(Amount<kinds::AbsolutePressure>{}, reading.number("pressure_pa_abs"), system);
  if (scale == "temperature")
    return print(amounts::temperature, reading.number("temperature_k"), system);
  const auto share = reading.number(scale);
  if (!share) return std::string(not_known);
  return fmt::format("{:.1f} % {}", 100.0 * *share,
                     scale == "gas" ? "gas" : "of the explosive limit");
}

void set_table(Flow& flow, const std::string& heading, Table table) {
  if (table.rows.empty()) return;
  flow.heading(heading);
  table.type = fine_type;
  flow.table(table);
  flow.space(4);
}

/// Lines that somebody types off again: no capital, no full stop.
void set_as_they_stand(Flow& flow, const std::string& heading,
                       const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  flow.heading(heading, 20, size::table);
  for (const std::string& line : lines) flow.paragraph(line, fine_type);
}

std::string offsets_words(const Reply& laid, units::System system) {
  std::vector<std::string> all;
  for (const Reply& offset : laid.list("offsets"))
    all.push_back(print(amounts::place, offset.number("distance_m"), system) + " from " +
                  offset.need_text("from"));
  return joined(all, "; ");
}

}  // namespace

std::string moment_words(const std::string& moment) {
  if (moment.size() < 19) return or_dash(moment);
  const std::string zone = moment.ends_with('Z') ? " UTC" : " " + moment.substr(moment.size() - 6);
  return moment.substr(0, 10) + " " + moment.substr(11, 8) + zone;
}

std::string stamp_words(const Reply& said) {
  const Reply stamp = said.need("stamp");
  const std::string happened = stamp.need_text("happened_at"), by = stamp.text("by");
  return (happened.size() >= 19 ? happened.substr(11, 8) : happened) + " " +
         (by.empty() ? "nobody named" : by) +
         (stamp.text("source") == "tapped" ? "" : ", " + stamp.text("source"));
}

void set_record_head(const RecordPart& part, const std::string& title) {
  const Reply opened = part.state.at("opened");
  part.flow.paragraph(bold(title), {size::title});
  part.flow.paragraph(bold(opened ? opened.need_text("title") : "Job without a title"),
                      {size::subtitle});
  part.flow.paragraph(
      fmt::format("{} · {} work · opened {} · {} events",
                  or_dash(opened ? opened.text("place") : ""),
                  opened ? opened.text("work") : "unknown",
                  opened ? moment_words(opened.need("stamp").need_text("happened_at")) : "–",
                  part.state.number("events").value_or(0)),
      fine_type);
  part.flow.space(4);
}

void set_found(const RecordPart& part) {
  const std::string verdict = part.audit.need_text("verdict");
  std::vector<std::string> counts;
  for (const char* grade : {"halt", "undecided", "warn", "info"}) {
    const auto n = std::ranges::count_if(part.audit.need_list("deviations"), [&](const Reply& one) {
      return one.text("grade") == grade;
    });
    if (n > 0) counts.push_back(fmt::format("{} {}", n, grade_word(grade)));
  }
  part.flow.block([&](const Box& at) {
    constexpr double mark = 26;
    Canvas& canvas = part.flow.canvas();
    grade_mark(canvas, {at.x, at.y, mark, mark}, verdict);
    const Text says =
        bold(grade_word(verdict)) + "  " +
        (counts.empty()
             ? "in the log, by this procedure."
             : joined(counts, ", ") +
                   ". Each stands below with its time, its person and where its limit is from.");
    return std::max(mark, canvas.text({at.x + mark + 10, at.y + 5}, at.w - mark - 10, says));
  });
}

void set_deviations(const RecordPart& part) {
  Table table{{{"grade", 1.7}, {"when", 1.2}, {"by", 0.8}, {"what", 6}, {"limit from", 2}}, {}};
  for (const Reply& one : part.audit.need_list("deviations")) {
    const std::string at = one.text("at");
    table.rows.push_back({Text(bold(grade_word(one.need_text("grade")))),
                          at.size() >= 19 ? at.substr(11, 8) : "–", or_dash(one.text("by")),
                          capital(paper_units(one.need_text("says"))), or_dash(source_of(one))});
  }
  set_table(part.flow, "Deviations", std::move(table));
}

void set_plan(const RecordPart& part) {
  const Reply plan = part.state.at("plan");
  if (!plan) return;
  part.flow.heading("Plan");
  const Reply accepted = plan.at("accepted");
  part.flow.paragraph(
      fmt::format("Plan {} (rank {}), document {}, made by {}, procedure {}. {}",
                  short_id(plan.need_text("plan_id")), plan.number("rank").value_or(1),
                  short_id(plan.need_text("result")), plan.text("engine"),
                  or_dash(plan.text("procedure")),
                  accepted ? "Accepted " + stamp_words(accepted) + "." : "Not accepted by name."),
      fine_type);
  std::vector<std::string> passed;
  for (const Reply& passing : part.state.list("gates_passed"))
    passed.push_back(fmt::format("gate {} passed {} and {}: {}", passing.need_text("gate"),
                                 stamp_words(passing), passing.need_text("second"),
                                 passing.need_text("reason")));
  set_lines(part.flow, "Gates passed", passed);
}

void set_steps(const RecordPart& part) {
  Table table{{{"step", 1.6}, {"what", 4.6}, {"answer", 1.6}, {"when and by", 2}, {"second", 1}},
              {}};
  for (const Reply& step : part.state.list("steps")) {
    const Reply answer = step.at("answer");
    table.rows.push_back(
        {step.need_text("id") + (step.flag("hold_point").value_or(false) ? " ■" : ""),
         paper_units(step.text("does")),
         answer ? Text(plain_words(answer.need_text("answer"))) : Text(bold("not answered")),
         answer ? stamp_words(answer) : "–", answer ? or_dash(answer.text("second")) : "–"});
  }
  set_table(part.flow, "Steps (■ hold point)", std::move(table));
  Table prompts{{{"prompt", 6}, {"answer", 1.5}, {"when and by", 2}}, {}};
  for (const Reply& prompt : part.state.list("prompts")) {
    const Reply answer = prompt.at("answer");
    prompts.rows.push_back(
        {paper_units(prompt.need_text("says")),
         answer ? Text(plain_words(answer.need_text("answer"))) : Text(bold("not answered")),
         answer ? stamp_words(answer) : "–"});
  }
  set_table(part.flow, "Prompts", std::move(prompts));
}

void set_squeezes(const RecordPart& part, bool alone) {
  for (const Reply& shutoff : part.state.list("shutoffs")) {
    const std::string letter = shutoff.need_text("id");
    part.flow.heading(fmt::format("Shut-off {} · {}", letter, or_dash(shutoff.text("kind"))), 70);
    const Reply found = shutoff.at("found");
    std::vector<std::string> acts;
    for (const Reply& act : shutoff.list("acts"))
      acts.push_back(act.need_text("did") + " " + stamp_words(act));
    const std::vector<Fact> facts{
        {"where", paper_units(or_dash(shutoff.text("place")))},
        {"map said", or_dash(shutoff.text("mapped"))},
        {"found", found ? found.need_text("pipe") + ", " + stamp_words(found) : "not recorded"},
        {"print line", found ? or_dash(found.text("print_line")) : "–"},
        {"differs", shutoff.text("differs").empty() ? Text("nothing recorded")
                                                    : Text(bold(shutoff.text("differs")))},
        {"done", or_dash(joined(acts, "; "))}};
    part.flow.block([&](const Box& at) { return draw_facts(part.flow.canvas(), at, facts, 70); });
    Table table{{{"when and by", 2}, {"gap", 1, Align::right}, {"pump", 1, Align::right}}, {}};
    for (const Reply& bars : shutoff.list("bars"))
      table.rows.push_back(
          {stamp_words(bars), print(amounts::gap, bars.number("gap_m"), part.system),
           bars.number("pump_pa_gauge")
               ? print(amounts::pressure, bars.number("pump_pa_gauge"), part.system)
               : "–"});
    table.type = fine_type;
    if (!table.rows.empty()) part.flow.table(table);
    std::vector<std::string> deviations;
    for (const Reply& one : part.audit.need_list("deviations"))
      if (alone &&
          (one.text("about") == "squeeze " + letter || one.text("about") == "pipe at " + letter))
        deviations.push_back(grade_word(one.need_text("grade")) + ": " +
                             paper_units(one.need_text("says")));
    set_lines(part.flow, "Deviations", deviations);
    part.flow.space(4);
  }
}

void set_readings(const RecordPart& part) {
  Table table{
      {{"when and by", 2}, {"where", 2}, {"reading", 1.5}, {"instrument", 1.2}, {"step", 1.2}}, {}};
  for (const Reply& reading : part.state.list("readings"))
    table.rows.push_back({stamp_words(reading), reading.need_text("point"),
                          measured(reading, part.system), or_dash(reading.text("instrument")),
                          or_dash(reading.text("step"))});
  set_table(part.flow, "Readings", std::move(table));
  Table shown{{{"instrument", 1.5}, {"scale", 1.2}, {"range", 1.2}, {"read to", 1.2}, {"due", 1.2}},
              {}};
  for (const Reply& one : part.state.list("instruments"))
    shown.rows.push_back({one.need_text("id"), one.need_text("scale"), or_dash(one.text("range")),
                          or_dash(one.text("read_to")), or_dash(one.text("due"))});
  set_table(part.flow, "Instruments", std::move(shown));
}

void set_people(const RecordPart& part) {
  Table table{{{"person", 1}, {"roles", 2}, {"qualified for, until", 3}, {"signed", 3}}, {}};
  for (const Reply& person : part.state.list("people")) {
    std::vector<std::string> roles, qualified, signs;
    for (const Reply& role : person.list("roles")) roles.push_back(role.need_text("role"));
    for (const Reply& one : person.list("qualifications"))
      qualified.push_back(one.need_text("task") + ", " + one.need_text("expires"));
    for (const Reply& one : person.list("signs"))
      signs.push_back(one.need_text("what") + " " + stamp_words(one));
    table.rows.push_back({or_dash(person.text("id")), or_dash(joined(roles, ", ")),
                          or_dash(joined(qualified, "; ")), or_dash(joined(signs, "; "))});
  }
  set_table(part.flow, "People, by their number in the register", std::move(table));
  Table kit{{{"kit", 2}, {"number", 1}, {"answer", 1}, {"due", 1}, {"when and by", 2}}, {}};
  for (const Reply& item : part.state.list("kit"))
    kit.rows.push_back({item.need_text("item"), or_dash(item.text("id")), item.need_text("answer"),
                        or_dash(item.text("due")), stamp_words(item)});
  set_table(part.flow, "Kit", std::move(kit));
}

void set_tests(const RecordPart& part) {
  const auto tests = part.state.list("tests");
  if (tests.empty()) part.flow.paragraph("No pressure test is on record.", fine_type);
  for (const Reply& test : tests) {
    part.flow.heading("Pressure test of " + test.need_text("section"), 90);
    const std::vector<Fact> facts{
        {"held", Text(bold(test.need_text("held")))},
        {"medium", or_dash(test.text("medium"))},
        {"from", moment_words(test.text("began"))},
        {"to", moment_words(test.text("ended"))},
        {"at start", print(amounts::pressure, test.number("at_start_pa_gauge"), part.system)},
        {"at end", print(amounts::pressure, test.number("at_end_pa_gauge"), part.system)},
        {"instrument", or_dash(test.text("instrument"))},
        {"elevation", or_dash(test.text("elevation"))},
        {"leaks", or_dash(test.text("leaks"))},
        {"employee", or_dash(test.text("employee"))},
        {"test company", or_dash(test.text("company"))},
        {"entered", stamp_words(test)}};
    part.flow.block([&](const Box& at) { return draw_facts(part.flow.canvas(), at, facts, 80); });
    part.flow.space(4);
  }
}

void set_purges(const RecordPart& part) {
  const auto purges = part.state.list("purges");
  if (purges.empty()) part.flow.paragraph("No purge is on record.", fine_type);
  const auto gas = [](std::optional<double> share) {
    return share ? fmt::format("{:.1f} % gas", 100.0 * *share) : std::string(not_known);
  };
  for (const Reply& purge : purges) {
    part.flow.heading("Purge of " + purge.need_text("section"), 90);
    const std::vector<Fact> facts{
        {"direction", or_dash(purge.text("direction"))},
        {"medium", or_dash(purge.text("medium"))},
        {"from", moment_words(purge.text("began"))},
        {"to", moment_words(purge.text("ended"))},
        {"vent", or_dash(purge.text("vent"))},
        {"at the vent", or_dash(purge.text("at_vent"))},
        {"detector", or_dash(purge.text("detector"))},
        {"volume", print(amounts::volume, purge.number("volume_m3"), part.system)},
        {"last readings", gas(purge.number("reading_1")) + ", " + gas(purge.number("reading_2"))},
        {"entered", stamp_words(purge)}};
    part.flow.block([&](const Box& at) { return draw_facts(part.flow.canvas(), at, facts, 80); });
    part.flow.space(4);
  }
}

void set_outage(const RecordPart& part) {
  const Reply outage = part.state.need("outage");
  Table table{{{"meter", 1.5}, {"now", 1}, {"visits", 6}}, {}};
  for (const Reply& meter : outage.need_list("meters")) {
    std::vector<std::string> visits;
    for (const Reply& visit : meter.list("visits"))
      visits.push_back(visit.need_text("did") + " " + stamp_words(visit) +
                       (visit.text("says").empty() ? "" : " (" + visit.text("says") + ")"));
    table.rows.push_back(
        {meter.need_text("meter"), Text(bold(meter.need_text("now"))), joined(visits, "; ")});
  }
  set_table(part.flow, "Customers off and on", std::move(table));
  set_lines(part.flow, "Lose gas by the plan and were not visited", outage.texts("not_visited"));
}

void set_chain(const RecordPart& part) {
  std::vector<std::string> lines;
  for (const Reply& one : part.state.list("corrections"))
    lines.push_back(fmt::format("{} corrected {}: {}", or_dash(one.text("kind")), stamp_words(one),
                                one.need_text("because")));
  set_lines(part.flow, "Corrections", lines);
  lines.clear();
  for (const Reply& one : part.state.list("results"))
    lines.push_back(fmt::format("{} {}: {}, {}", one.need_text("question"),
                                short_id(one.need_text("result")), one.text("verdict"),
                                one.text("engine")));
  set_lines(part.flow, "Results, by hash", lines);
  lines.clear();
  for (const Reply& one : part.state.list("photos"))
    lines.push_back(fmt::format("{} of {}: {}", one.need_text("view"), or_dash(one.text("about")),
                                one.need_text("blob")));
  set_as_they_stand(part.flow, "Photographs, by hash", lines);
  set_as_they_stand(part.flow,
                    "Heads: hold a log file against these (job verify FILE --head \"…\")",
                    part.state.texts("heads"));
}

void set_handover(const RecordPart& part) {
  for (const Reply& line : part.handover.need_list("lines")) {
    part.flow.heading(line.need_text("head"), 30);
    for (const std::string& says : line.texts("says")) part.flow.paragraph(paper_units(says), {13});
  }
  part.flow.space(6);
  part.flow.paragraph(fmt::format("{} words; {} s to read aloud at 150 a minute.",
                                  part.handover.number("words").value_or(0),
                                  std::ceil(part.handover.number("read_aloud_s").value_or(0))),
                      fine_type);
}

namespace {

/// The main as a line to scale, with what lies on it and its tapes. Nothing where no station is on
/// record.
void draw_sketch(const RecordPart& part, const std::vector<Reply>& laid) {
  std::vector<std::pair<double, const Reply*>> placed;
  for (const Reply& one : laid)
    if (const auto station = one.number("station_m")) placed.emplace_back(*station, &one);
  if (placed.empty()) return;
  std::ranges::sort(placed, {}, [](const auto& one) { return one.first; });
  Canvas& canvas = part.flow.canvas();
  part.flow.block([&](const Box& at) {
    constexpr double height = 96, edge = 40;
    const double first = placed.front().first, length = std::max(1.0, placed.back().first - first);
    const double y = at.y + 40, from = at.x + edge, width = at.w - 2 * edge;
    canvas.line({at.x, y}, {at.x + at.w, y}, {2.4});
    for (std::size_t i = 0; i < placed.size(); ++i) {
      const double x = from + width * (placed[i].first - first) / length;
      const bool squeeze = placed[i].second->text("what") == "squeeze";
      if (squeeze)
        canvas.line({x, y - 12}, {x, y + 12}, {3.2});
      else
        canvas.circle({x, y}, 5, Fill::white, {1.2});
      const double label = i % 2 == 0 ? y - 26 : y + 26;
      canvas.label(
          {x, label}, 0,
          Text(placed[i].second->need_text("what") + " " + placed[i].second->text("about")),
          fine_type, true);
      canvas.label({x, label + (i % 2 == 0 ? -11 : 11)}, 0,
                   Text(print(amounts::place, placed[i].first, part.system)), fine_type, true);
    }
    return height;
  });
}

}  // namespace

void set_laid(const RecordPart& part) {
  const auto laid = part.state.list("laid");
  if (laid.empty()) {
    part.flow.paragraph("Nothing laid or marked is on record.", fine_type);
    return;
  }
  part.flow.heading("As laid: along the main from its start, to scale", 110);
  draw_sketch(part, laid);
  Table table{{{"what", 1.4},
               {"main", 1},
               {"along it", 1, Align::right},
               {"depth", 1, Align::right},
               {"tapes", 4},
               {"marked", 1.2}},
              {}};
  for (const Reply& one : laid)
    table.rows.push_back(
        {one.need_text("what") + " " + one.text("about"), or_dash(one.text("element")),
         print(amounts::place, one.number("station_m"), part.system),
         print(amounts::cover, one.number("depth_m"), part.system),
         or_dash(offsets_words(one, part.system)), plain_words(one.need_text("marked"))});
  table.type = fine_type;
  part.flow.table(table);
  part.flow.space(4);
}

}  // namespace bellhole::sheets
