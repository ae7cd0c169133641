// What closes the ends of a length under test.
#include <fmt/format.h>

#include <algorithm>

#include "restore/test_work.hpp"

namespace bellhole::restore {

void must_allow(const TestWork& work, std::string_view rule, const std::string& what,
                const std::string& refused, std::string action, std::string about) {
  const auto ruling = work.ruling(rule);
  const auto* value = ruling.row == nullptr ? nullptr : std::get_if<bool>(&ruling.row->value);
  if (value != nullptr && *value && ruling.doubtful.empty()) {
    work.add(procedure::caveats(ruling, about, work.system));
    return;
  }
  Finding finding =
      test_finding(std::string(rule), value == nullptr ? Grade::undecided : ruling.row->grade,
                   what + (value == nullptr ? ": no limit set: decide" : refused),
                   std::move(action), std::move(about));
  if (ruling.row != nullptr) {
    finding.source = ruling.row->source;
    finding.evidence = ruling.row->evidence;
  }
  work.add(std::move(finding));
}

void judge_ends(const TestWork& work) {
  const auto& ends = work.question.ends;
  const auto has = [&](End end) { return std::ranges::find(ends, end) != ends.end(); };
  const auto against = [&](End end, std::string_view rule, std::string action) {
    must_allow(work, rule, fmt::format("an end is closed by {}", words(end)),
               ", and the procedure lets no test stand against it", std::move(action), "ends");
  };
  // Pipe that was tested before has its own record of what closed it.
  if (ends.size() < 2 && (work.question.pretested.empty() || !ends.empty())) {
    work.add(test_finding("test.ends", Grade::undecided,
                          ends.empty()
                              ? "what closes the ends of the length under test is not given"
                              : "what closes the other end of the length under test is not given",
                          "say it for every end: --ends blank,cap", "ends"));
  }
  if (has(End::squeeze))
    against(End::squeeze, "test.against_squeeze",
            "do not test against a squeeze: test the pipe before it goes in (pre-tested pipe, by "
            "its id) and soap every tie-in at line pressure");
  if (has(End::live_valve))
    against(End::live_valve, "test.against_live_valve",
            "put a blank between, or test the pipe before it goes in and soap every tie-in at "
            "line pressure");
}

}  // namespace bellhole::restore
