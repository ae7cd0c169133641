// What closes the ends of a length under test.
#include <fmt/format.h>

#include <algorithm>

#include "restore/test_work.hpp"

namespace bellhole::restore {
namespace {

/// Whether the profile lets a test stand against this; its row's grade and source where not.
void against(const TestWork& work, End end, std::string_view rule, std::string action) {
  const auto ruling = work.ruling(rule);
  const auto* value = ruling.row == nullptr ? nullptr : std::get_if<bool>(&ruling.row->value);
  if (value != nullptr && *value && ruling.doubtful.empty()) {
    work.add(procedure::caveats(ruling, "ends", work.system));
    return;
  }
  Finding finding = test_finding(
      std::string(rule), value == nullptr ? Grade::undecided : ruling.row->grade,
      value == nullptr
          ? fmt::format("an end is closed by {}: no limit set: decide", words(end))
          : fmt::format("an end is closed by {}, and the procedure lets no test stand against it",
                        words(end)),
      std::move(action), "ends");
  if (ruling.row != nullptr) {
    finding.source = ruling.row->source;
    finding.evidence = ruling.row->evidence;
  }
  work.add(std::move(finding));
}

}  // namespace

void judge_ends(const TestWork& work) {
  const auto& ends = work.question.ends;
  const auto has = [&](End end) { return std::ranges::find(ends, end) != ends.end(); };
  if (ends.size() < 2) {
    work.add(test_finding("test.ends", Grade::undecided,
                          ends.empty()
                              ? "what closes the ends of the length under test is not given"
                              : "what closes the other end of the length under test is not given",
                          "say it for every end: --ends blank,cap", "ends"));
  }
  if (has(End::squeeze))
    against(work, End::squeeze, "test.against_squeeze",
            "do not test against a squeeze: test the pipe before it goes in (pre-tested pipe, by "
            "its id) and soap every tie-in at line pressure");
  if (has(End::live_valve))
    against(work, End::live_valve, "test.against_live_valve",
            "put a blank between, or test the pipe before it goes in and soap every tie-in at "
            "line pressure");
}

}  // namespace bellhole::restore
