#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

std::string cause_words(const std::string& cause) {
  if (cause == "isolated") return "on the isolated part";
  if (cause == "pocket") return "cut off behind it";
  if (cause == "short") return "pressure falls short";
  return cause;
}

Text nearby_words(const Reply& shutoff, units::System system) {
  Text says;
  for (const Reply& pipe : shutoff.list("nearby")) {
    if (!says.empty()) says += "; ";
    says += bold(print(amounts::near, pipe.number("distance_m"), system)) + " " +
            pipe.text("pipe") + ", " + pipe.text("size") + " " +
            material_words(pipe.text("material")) +
            (pipe.has("tier") ? ", " + pipe.text("tier") + " tier" : "");
  }
  return says;
}

void must_not_lose_rows(Flow& flow, const std::vector<Reply>& customers, units::System system) {
  for (const Reply& customer : customers) {
    if (!customer.flag("must_not_lose").value_or(false)) continue;
    flow.block([&](const Box& at) {
      return draw_tick(flow.canvas(), at,
                       bold("Must not lose: " + customer.text("why_not")) + " – " +
                           customer.text("id") + ", " + customer.text("street") + ", " +
                           place_on(customer.text("pipe"), customer.number("station_m"), system) +
                           ", " + cause_words(customer.text("cause")));
    });
  }
}

/// "2 squeezes and 1 valve".
std::string shut_words(const Reply& plan) {
  std::map<std::string, std::size_t> kinds;
  for (const Reply& shutoff : plan.list("shutoffs")) ++kinds[shutoff.text("kind")];
  std::vector<std::string> words;
  for (const auto& [kind, n] : kinds) {
    std::string word = kind;
    std::ranges::replace(word, '_', ' ');
    words.push_back(counted(n, word, word + "s"));
  }
  return listed(words);
}

}  // namespace

void set_if_it_fails(Flow& flow, const RunJob& job) {
  flow.heading("If a shut-off fails, and other pipes by each dig", 60);
  for (const Reply& shutoff : job.plan.list("shutoffs")) {
    const std::string fails = shutoff.at("if_it_fails").text("says");
    const Text nearby = nearby_words(shutoff, job.options.system);
    Text says = bold("If it fails: ") +
                (fails.empty() ? "nothing is known: decide before the start." : fails);
    says += bold(" Other pipes by the dig: ");
    says += nearby.empty() ? Text("none on the map; locate before digging.") : nearby + ".";
    flow.block([&](const Box& at) {
      letter_mark(flow.canvas(), {at.x + 9, at.y + 10}, 8.5, shutoff.text("id"));
      const double h = flow.canvas().text({at.x + 24, at.y + 2}, at.w - 24, says, table_type);
      return std::max(h + 3, 22.0);
    });
  }
}

void set_customers(Flow& flow, const RunJob& job) {
  const auto customers = job.plan.list("customers_out");
  std::size_t must = 0;
  std::map<std::pair<std::string, std::string>, std::vector<std::string>> streets;
  for (const Reply& customer : customers) {
    if (customer.flag("must_not_lose").value_or(false))
      ++must;
    else
      streets[{customer.text("street"), customer.text("cause")}].push_back(customer.text("id"));
  }
  flow.heading(customers.empty()
                   ? std::string("Customers out: none")
                   : fmt::format("Customers out: {}, {} that must not lose gas", customers.size(),
                                 must == 0 ? "none" : std::to_string(must)));
  must_not_lose_rows(flow, customers, job.options.system);
  for (auto& [street, ids] : streets) {
    std::ranges::sort(ids);
    Text line =
        bold(fmt::format("{}, {} ({}): ", street.first.empty() ? "street not known" : street.first,
                         cause_words(street.second), ids.size()));
    std::string all;
    for (const std::string& id : ids) all += (all.empty() ? "" : ", ") + id;
    flow.paragraph(line + all, {size::table}, tick_side + 6, [&](const Box& at) {
      tick_box(flow.canvas(), {at.x, at.y});
      return 0.0;
    });
    flow.space(6);
  }
}

void set_plans(Flow& flow, const RunJob& job) {
  const auto plans = job.reply.list("plans");
  if (plans.size() < 2) return;
  flow.heading("This plan beside the others", 30, size::table);
  Table table{{{"plan", 0.6},
               {"shut-offs", 2.6},
               {"customers out", 1.5, Align::right},
               {"must not lose", 1.4, Align::right},
               {"gas stopped", 1.4, Align::right},
               {"crew time", 1.4, Align::right}},
              {},
              fine_type,
              1.0};
  for (const Reply& plan : plans) {
    std::vector<std::string> cells{fmt::format("{:.0f}", plan.number("rank").value_or(0)),
                                   shut_words(plan),
                                   fmt::format("{}", plan.list("customers_out").size()),
                                   fmt::format("{}", plan.texts("must_not_lose_out").size()),
                                   lasting(plan.number("time_to_stop_s")),
                                   lasting(plan.number("cost_crew_s"))};
    const bool this_one = plan.json() == job.plan.json();
    std::vector<Text>& row = table.rows.emplace_back();
    for (std::string& cell : cells) row.push_back(this_one ? bold(cell) : Text(cell));
  }
  flow.table(table);
}

void set_reasons(Flow& flow, const RunJob& job) {
  std::vector<std::string> lines;
  for (const char* key : {"why", "beats_next"}) {
    if (job.plan.has(key)) lines.push_back(job.plan.text(key));
  }
  const Reply proof = job.reply.at("proof");
  if (proof.has("optimal")) {
    lines.push_back(fmt::format("{} cuts examined; {}", proof.number("examined").value_or(0),
                                proof.flag("optimal").value_or(false)
                                    ? "none that was left out can rank higher"
                                    : "a better one may exist"));
  }
  set_run_on(flow, "Why this plan", lines);
}

void set_not_checked(Flow& flow, const RunJob& job) {
  std::vector<std::string> lines = job.reply.texts("not_checked");
  for (const char* always :
       {"The pipe in the ground: the print line and a measured OD and wall win over the map",
        "Services from one main to a house that another main feeds as well",
        "Other people's pipes and cables; ground, water, traffic; who is qualified and on shift",
        "Gas already in the ground, in drains and in buildings"})
    lines.emplace_back(always);
  set_lines(flow, "Not checked here", lines);
}

void set_passed_over(Flow& flow, const RunJob& job) {
  std::vector<std::string> lines;
  for (const Reply& item : job.reply.list("passed_over"))
    lines.push_back(item.text("element") + ": " + item.text("why"));
  set_run_on(flow, "Looked at and passed over", lines);
}

void set_inputs(Flow& flow, const RunJob& job) {
  const auto system = job.options.system;
  const Reply network = job.reply.at("network"), conditions = job.reply.at("conditions");
  std::vector<std::string> lines;
  std::string map = "network " + network.text("name");
  if (network.has("imported_from")) map += ", from " + network.text("imported_from");
  if (network.has("imported_at")) map += ", " + network.text("imported_at");
  if (network.has("hash")) map += ", hash " + short_id(network.text("hash"));
  lines.push_back(map);
  std::string when;
  if (conditions.has("temperature_k"))
    when +=
        "outside air " + print(amounts::temperature, conditions.number("temperature_k"), system);
  if (const auto hour = conditions.number("hour")) when += fmt::format(", hour {:.0f}", *hour);
  if (conditions.has("load")) when += ", load " + conditions.text("load");
  if (!when.empty()) lines.push_back("reckoned for " + when);
  std::string procedure = conditions.text("procedure_title");
  if (procedure.empty()) procedure = conditions.text("procedure");
  if (!procedure.empty()) lines.push_back("procedure " + procedure);
  const Reply before = job.reply.at("before");
  if (const Reply lowest = before.at("lowest_pressure"))
    lines.push_back("before the shut-off, lowest pressure " +
                    print(amounts::lowest, lowest.number("pa_gauge"), system) + " at " +
                    lowest.text("node"));
  const std::string asked = conditions.text("asked_at");
  lines.push_back(asked.empty() ? "the time of asking is not recorded" : "asked at " + asked);
  set_run_on(flow, "Inputs", lines);
}

}  // namespace bellhole::sheets
