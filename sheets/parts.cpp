#include "sheets/parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "sheets/amounts.hpp"

namespace bellhole::sheets {
namespace {

int rank_of(const Reply& finding) {
  static constexpr std::array<std::string_view, 4> grades{"halt", "undecided", "warn", "info"};
  const auto at = std::ranges::find(grades, finding.text("grade"));
  return static_cast<int>(at - grades.begin());
}

std::vector<Reply> worst_first(std::vector<Reply> findings) {
  std::ranges::stable_sort(findings, {}, rank_of);
  return findings;
}

/// What the verdict means for the reader. None of these is a permission.
std::string meaning_of(const std::string& verdict, bool emergency) {
  const std::string waits = "Shutting does not wait for this. ";
  if (verdict == "halt")
    return emergency ? waits + "Settle it before the cut." : "Do not begin until this is settled.";
  if (verdict == "undecided")
    return emergency ? waits + "Decide it before the cut."
                     : "A named person decides before the work begins.";
  if (verdict == "warn")
    return emergency ? waits + "Read every warning before the cut."
                     : "Read every warning before the work begins.";
  return "Not a permission: the person in charge decides.";
}

/// Whether the frame of this verdict shows the first of the worst findings in full.
bool stands_in_verdict(const std::string& verdict) {
  return verdict == "halt" || verdict == "undecided" || verdict == "warn";
}

/// A sentence as it stands on paper: a capital, signs for units, a full stop.
std::string sentence(std::string says) {
  says = capital(paper_units(std::move(says)));
  if (!says.empty() && std::string_view(".!?").find(says.back()) == std::string_view::npos)
    says += '.';
  return says;
}

/// A source without its remarks: the reply has them in full.
std::string short_source(const std::string& source) {
  return source.substr(0, std::min(source.find(", "), source.find(": ")));
}

}  // namespace

Result<std::string> set_on_paper(PaperSize paper, const Info& info,
                                 const std::function<std::size_t(Canvas&, std::size_t)>& compose) {
  BELLHOLE_TRY(canvas, Canvas::pdf(paper, info));
  std::size_t pages = 0;
  {
    const Canvas::Dry dry(*canvas);
    pages = compose(*canvas, 0);
  }
  compose(*canvas, pages);
  return canvas->finish();
}

double draw_verdict(Canvas& canvas, const Box& at, const std::string& verdict,
                    std::vector<Reply> findings, bool emergency, double body_size) {
  findings = worst_first(std::move(findings));
  constexpr double mark = 30, pad = 5;
  const double x = at.x + pad + mark + 11, width = at.w - mark - 2 * pad - 14;
  const Text head = bold(grade_word(verdict)) + "  " + meaning_of(verdict, emergency);
  const Type head_type{canvas.width(head, {13}) <= width ? 13 : size::body};
  Text body;
  if (!findings.empty() && stands_in_verdict(verdict)) {
    const Reply& first = findings.front();
    const auto same = std::ranges::count(findings, rank_of(first), rank_of);
    const std::string source = source_of(first);
    body = bold(sentence(first.text("says"))) + " " + sentence(first.text("action")) +
           (source.empty() ? "" : " [" + source + "]") +
           (same > 1 ? fmt::format(" And {} more below.", same - 1) : "");
  }
  const double head_height = canvas.height(width, head, head_type) + 1;
  const double used = head_height + (body.empty() ? 0 : canvas.height(width, body, {body_size}));
  const double height = std::max(used, mark) + 2 * pad;
  const double y = at.y + (height - used) / 2;
  canvas.text({x, y}, width, head, head_type);
  if (!body.empty()) canvas.text({x, y + head_height}, width, body, {body_size});
  grade_mark(canvas, {at.x + pad + 3, at.y + (height - mark) / 2, mark, mark}, verdict);
  canvas.box({at.x, at.y, at.w, height}, Fill::none, {verdict == "halt" ? 3.0 : 1.6});
  return height;
}

std::string source_of(const Reply& finding) {
  const std::string source = short_source(paper_units(finding.text("source"))),
                    evidence = finding.text("evidence");
  if (source.empty()) return {};
  if (evidence == "from_memory") return source + ", from memory";
  if (evidence == "common_practice" && !source.contains("common practice"))
    return source + ", common practice";
  return source;
}

namespace {

constexpr std::string_view unset = "no limit set for ";

/// Findings that ask for the same thing of the same person, said once.
struct Group {
  std::string grade, source;
  std::vector<std::string> actions;
  bool unset_limit = false;
  std::vector<std::string> says;
};

/// The clauses of an action: "measure it: --wall", "decide: the engineer …".
std::vector<std::string> clauses_of(const std::string& action) {
  std::vector<std::string> clauses;
  for (std::size_t begin = 0; begin < action.size();) {
    const std::size_t end = std::min(action.find("; ", begin), action.size());
    clauses.push_back(action.substr(begin, end - begin));
    begin = end + 2;
  }
  return clauses;
}

/// What is said of one unset limit when "no limit set" stands before them all.
std::string without_prefix(std::string says) {
  says.erase(0, unset.size());
  constexpr std::string_view decide = ": decide", published = "; published, for reference only: ";
  if (const auto at = says.find(decide); at != std::string::npos) says.erase(at, decide.size());
  // That the value is not known either stands among the facts of the sheet.
  constexpr std::string_view unknown = " is not known either";
  if (says.ends_with(unknown)) says.erase(std::min(says.rfind("; "), says.size()));
  const auto begin = says.find(published);
  if (begin == std::string::npos) return says;
  std::string reference = says.substr(begin + published.size());
  if (const auto open = reference.find(" ("), close = reference.rfind(')');
      open < close && close != std::string::npos)
    reference = reference.substr(0, open) + ", " +
                short_source(reference.substr(open + 2, close - open - 2)) +
                reference.substr(close + 1);
  return says.substr(0, begin) + " (published: " + reference + ")";
}

/// Unset limits are one group, whatever else is asked for beside the decision.
bool joins(const Group& one, const Group& other) {
  if (one.grade != other.grade || one.unset_limit != other.unset_limit) return false;
  return one.unset_limit || (one.actions == other.actions && one.source == other.source);
}

void join(Group& into, const Group& more) {
  into.says.insert(into.says.end(), more.says.begin(), more.says.end());
  for (const std::string& clause : more.actions) {
    if (std::ranges::find(into.actions, clause) == into.actions.end())
      into.actions.push_back(clause);
  }
}

std::vector<Group> grouped(const std::vector<Reply>& findings) {
  std::vector<Group> groups;
  for (const Reply& finding : findings) {
    const std::string says = finding.text("says");
    const bool unset_limit = says.starts_with(unset);
    const Group group{finding.text("grade"),
                      unset_limit ? "" : source_of(finding),
                      clauses_of(finding.text("action")),
                      unset_limit,
                      {unset_limit ? without_prefix(says) : says}};
    const auto same =
        std::ranges::find_if(groups, [&](const Group& other) { return joins(other, group); });
    if (same == groups.end())
      groups.push_back(group);
    else
      join(*same, group);
  }
  return groups;
}

/// The grade's word stands with the first group of a grade, its sign with each.
Text group_words(const Group& group, bool first_of_grade) {
  std::string all;
  for (const std::string& says : group.says) all += (all.empty() ? "" : "; ") + says;
  Text text = bold(first_of_grade ? grade_word(group.grade) + ". " : "");
  if (group.unset_limit)
    text += bold("No limit set for: ") + sentence(all);
  else
    text += bold(sentence(all));
  if (!group.actions.empty()) text += " " + sentence(joined(group.actions, "; "));
  if (!group.source.empty()) text += " [" + group.source + "]";
  return text;
}

}  // namespace

void set_findings(Flow& flow, const std::string& verdict, std::vector<Reply> findings,
                  const std::string& heading) {
  findings = worst_first(std::move(findings));
  if (!findings.empty() && stands_in_verdict(verdict)) findings.erase(findings.begin());
  if (findings.empty()) return;
  if (!heading.empty()) flow.heading(heading);
  std::string grade;
  for (const Group& group : grouped(findings)) {
    flow.paragraph(group_words(group, group.grade != grade), fine_type, 15, [&](const Box& at) {
      grade_mark(flow.canvas(), {at.x, at.y + 0.5, 10.5, 10.5}, group.grade);
      return 0.0;
    });
    flow.space(2);
    grade = group.grade;
  }
}

void set_lines(Flow& flow, const std::string& heading, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  flow.heading(heading, 26, size::table);
  for (const std::string& line : lines) {
    flow.paragraph(sentence(line), fine_type, 10, [&](const Box& at) {
      flow.canvas().text({at.x, at.y}, 10, "–", fine_type);
      return 0.0;
    });
    flow.space(1);
  }
}

void set_run_on(Flow& flow, const std::string& lead, const std::vector<std::string>& parts) {
  if (parts.empty()) return;
  std::string all;
  for (std::string part : parts) {
    while (part.ends_with('.')) part.pop_back();
    all += (all.empty() ? "" : "; ") + part;
  }
  flow.paragraph(bold(lead + ": ") + paper_units(all) + ".", fine_type);
  flow.space(2);
}

double draw_tick(Canvas& canvas, const Box& at, const Text& says, Type type) {
  const double x = at.x + tick_side + 6, width = at.w - tick_side - 6;
  const double height = canvas.height(width, says, type);
  const double row = std::max(height, tick_side);
  tick_box(canvas, {at.x, at.y});
  // One line stands beside the middle of the box, more lines begin at its top.
  canvas.text({x, at.y + (height < tick_side ? (tick_side - height) / 2 : 0)}, width, says, type);
  return row + 3.5;
}

double draw_facts(Canvas& canvas, const Box& at, const std::vector<Fact>& facts,
                  double name_width) {
  double y = at.y;
  for (const Fact& fact : facts) {
    const double name = canvas.text({at.x, y + 1.6}, name_width - 6, fact.name, fine_type) + 1.6;
    const double value =
        canvas.text({at.x + name_width, y}, at.w - name_width, fact.value, body_type);
    y += std::max(name, value) + 1.5;
  }
  return y - at.y;
}

std::string short_id(const std::string& id) { return id.substr(0, 12); }

}  // namespace bellhole::sheets
