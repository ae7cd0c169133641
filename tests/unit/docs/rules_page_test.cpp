// docs/rules.md against the code: every rule that a finding can carry stands there, nothing else
// does, and the tables of the profile's rules and of the values that ship are what the code would
// write.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>

#include "procedure/profile.hpp"
#include "procedure/value.hpp"
#include "tests/unit/docs/project.hpp"
#include "wire/profile.hpp"

namespace bellhole::docs {
namespace {

using Ids = std::set<std::string>;

/// A text that is an id and nothing else. Of "bellhole." are the names of documents, of "isolate."
/// the places that trouble names.
const std::regex whole_id("\"((?!bellhole\\.|isolate\\.)[a-z]+\\.[a-z_0-9]+)\"");
/// engine/network puts "network." before what it says: say("no_source", …).
const std::regex said_in_network("\\b(?:say|unknown)\\(\\s*\"([a-z_0-9]+)\"");
/// A rule made of a room and a word: fmt::format("pipe.{}", word).
const std::regex made_id("\"([a-z]+)\\.\\{\\}\"");

void gather(const std::regex& pattern, const std::string& text, const std::string& prefix,
            Ids& into) {
  for (auto match = std::sregex_iterator(text.begin(), text.end(), pattern);
       match != std::sregex_iterator(); ++match)
    into.insert(prefix + match->str(1));
}

struct Emitted {
  Ids ids;
  std::map<std::string, std::string>
      made;  ///< prefix of made ids -> text of the files that make them
};

const Emitted& emitted() {
  static const Emitted all = [] {
    Emitted found;
    for (const auto& file : files({"engine", "ask", "wire", "store", "maps"}, ".cpp")) {
      const std::string text = without_comments(read(file));
      gather(whole_id, text, "", found.ids);
      if (file.parent_path() == top() / "engine/network")
        gather(said_in_network, text, "network.", found.ids);
      Ids prefixes;
      gather(made_id, text, "", prefixes);
      for (const auto& prefix : prefixes) found.made[prefix] += text;
    }
    return found;
  }();
  return all;
}

std::string page() { return read(top() / "docs/rules.md"); }

Ids on_page() {
  Ids ids;
  const std::string text = page();
  gather(std::regex("\\| `([a-z]+\\.[a-z_0-9]+)` \\|"), text, "", ids);
  return ids;
}

TEST(RulesPage, HasEveryRuleThatAProfileCanSet) {
  const Ids ids = on_page();
  for (const auto& rule : procedure::rules())
    EXPECT_TRUE(ids.contains(std::string(rule.id))) << rule.id << " is not in docs/rules.md";
}

TEST(RulesPage, HasEveryRuleThatTheCodeEmits) {
  ASSERT_GT(emitted().ids.size(), 100U);
  const Ids ids = on_page();
  // Fields of documents that a trouble names as the place of bad input: no rules.
  const Ids fields{"plan.customers_out", "plan.isolated", "plan.order", "relight.rate",
                   "relight.shut_rate"};
  for (const auto& id : emitted().ids)
    EXPECT_TRUE(ids.contains(id) || fields.contains(id)) << id << " is not in docs/rules.md";
}

bool can_be_made(const std::string& id) {
  const auto dot = id.find('.');
  const auto made = emitted().made.find(id.substr(0, dot));
  return made != emitted().made.end() &&
         made->second.find('"' + id.substr(dot + 1) + '"') != std::string::npos;
}

TEST(RulesPage, HasNoRuleThatIsGone) {
  for (const auto& id : on_page()) {
    const bool known =
        emitted().ids.contains(id) || procedure::find_rule(id) != nullptr || can_be_made(id);
    EXPECT_TRUE(known) << id << " stands in docs/rules.md, and nothing says it";
  }
}

// ---- the tables that the code writes

std::string_view binds(const procedure::Rule& rule) {
  switch (rule.sense) {
    case procedure::Sense::most:
      return "at most";
    case procedure::Sense::least:
      return "at least";
    case procedure::Sense::set:
      break;
  }
  return "set";
}

std::string table_of_rules() {
  std::string text = "| rule | its value | is a | binds | law |\n|---|---|---|---|---|\n";
  for (const auto& rule : procedure::rules()) {
    text += "| `" + std::string(rule.id) + "` | " + std::string(rule.asks);
    if (!rule.words.empty()) text += ": one of `" + std::string(rule.words) + "`";
    text += " | " + std::string(to_string(rule.dimension)) + " | " + std::string(binds(rule)) +
            " | " + (rule.law ? "law" : "") + " |\n";
  }
  return text;
}

constexpr std::string_view what_ships =
    "\n## What ships as a value\n\n"
    "Published values only; each row names its source and how well it is known. *Empty*: no "
    "reliable value was "
    "found,\nat most a published figure to look at. Empty or not listed reads \"no limit set: "
    "decide\", never "
    "OK. Where a rule\nhas several values, each row has its own conditions: see the profile.\n";

std::string grade_of(const procedure::Row& row) { return std::string(to_string(row.grade)); }

std::string once(const std::set<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : "; ") + word;
  return text;
}

/// One line a rule: what its rows give, in the units of that practice.
std::string table_of(const procedure::Profile& profile, units::System system) {
  std::string text = "| rule | value | grade | source | evidence |\n|---|---|---|---|---|\n";
  for (const auto& rule : procedure::rules()) {
    std::vector<std::string> values;
    std::set<std::string> sources, grades, evidence;
    std::string references;
    bool stands = false;
    for (const auto& row : profile.rows()) {
      if (row.rule != &rule) continue;
      stands = true;
      if (row.reference)
        references += (references.empty() ? "; published: " : "; ") +
                      procedure::print(rule, row.reference->value, system) + " (" +
                      row.reference->source + ")";
      if (std::holds_alternative<std::monostate>(row.value)) continue;
      values.push_back(procedure::print(rule, row.value, system));
      sources.insert(row.source);
      grades.insert(grade_of(row));
      evidence.insert(std::string(to_string(row.evidence)));
    }
    if (!stands) continue;
    std::string value = values.empty() ? "empty" + references : "";
    if (values.size() > 3) value = std::to_string(values.size()) + " rows";
    for (std::size_t i = 0; i < values.size() && values.size() <= 3; ++i)
      value += (i == 0 ? "" : ", ") + values[i];
    text += "| `" + std::string(rule.id) + "` | " + value + " | " + once(grades) + " | " +
            once(sources) + " | " + once(evidence) + " |\n";
  }
  return text;
}

std::string written() {
  std::string text = "\n" + table_of_rules() + std::string(what_ships);
  for (const auto& [id, system] :
       {std::pair("us", units::System::us), std::pair("metric", units::System::metric)}) {
    const auto profile = wire::built_in_profile(id);
    if (!profile) return profile.error().where;
    text += "\n### `" + std::string(id) + "`: " + profile->title() + "\n\n" +
            table_of(*profile, system);
  }
  return text;
}

constexpr std::string_view begins = "<!-- written by test_docs -->\n";
constexpr std::string_view ends = "\n<!-- to here -->\n";

TEST(RulesPage, HasTheTablesThatTheCodeWouldWrite) {
  std::string text = page();
  const auto begin = text.find(begins), end = text.find(ends);
  ASSERT_NE(begin, std::string::npos);
  ASSERT_NE(end, std::string::npos);
  const auto from = begin + begins.size();
  const std::string now = text.substr(from, end - from);
  if (std::getenv("BELLHOLE_WRITE_RULES") != nullptr) {
    text.replace(from, end - from, written());
    std::ofstream(top() / "docs/rules.md") << text;
  }
  EXPECT_EQ(now, written()) << "run test_docs with BELLHOLE_WRITE_RULES=1 and look at the change";
}

}  // namespace
}  // namespace bellhole::docs
