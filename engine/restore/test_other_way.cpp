// The other way than a test in place: pipe that was tested before it went in, by its id, and soap
// on every joint that no test reaches.
#include <fmt/format.h>

#include "restore/test_work.hpp"

namespace bellhole::restore {
namespace {

using units::print;
using units::Toward;

void judge_record(const TestWork& work, const Pretested& pipe) {
  const Tested& tested = work.tested;
  if (tested.least && pipe.pressure < *tested.least)
    work.add(test_finding("test.pretested_low", Grade::halt,
                          fmt::format("pipe {} was tested at {}, below the least test pressure, {}",
                                      pipe.id, print(pipe.pressure, work.system, Toward::down),
                                      print(*tested.least, work.system, Toward::up)),
                          "test it again before it goes in, or take other pipe", pipe.id));
  if (tested.most && pipe.pressure > *tested.most)
    work.add(test_finding("test.pretested_high", Grade::halt,
                          fmt::format("pipe {} was tested at {}, over the most that it may see, {}",
                                      pipe.id, print(pipe.pressure, work.system, Toward::up),
                                      print(*tested.most, work.system, Toward::down)),
                          "take other pipe, and have the engineer decide on this one", pipe.id));
  const auto shortest = work.ruling("test.duration_least").as<kinds::Duration>();
  if (!pipe.duration)
    work.add(test_finding("test.pretested_short", Grade::undecided,
                          fmt::format("how long pipe {} was tested is not given", pipe.id),
                          "read it on its record: --pretested \"P-118@95psig 1h\"", pipe.id));
  else if (shortest && *pipe.duration < *shortest)
    work.add(test_finding("test.pretested_short", Grade::halt,
                          fmt::format("pipe {} was tested for {}; the procedure asks for {}",
                                      pipe.id, print(*pipe.duration, work.system, Toward::down),
                                      print(*shortest, work.system, Toward::up)),
                          "test it again before it goes in, or take other pipe", pipe.id));
}

void judge_joint(const TestWork& work, const TieIn& joint, GaugePressure line) {
  const auto say = [&](Grade grade, std::string says, std::string action) {
    work.add(test_finding("test.tie_in", grade, std::move(says), std::move(action), joint.id));
  };
  const std::string at = print(line, work.system, Toward::up);
  if (!joint.pressure)
    return say(Grade::undecided, fmt::format("tie-in {} is not soaped yet", joint.id),
               fmt::format("soap it at {} before backfill", at));
  if (joint.shows == Soaped::bubbles)
    return say(Grade::halt, fmt::format("tie-in {} leaks: soap showed bubbles", joint.id),
               "shut the feed, vent down, cut the joint out and make it again");
  if (*joint.pressure < line)
    return say(Grade::halt,
               fmt::format("tie-in {} was soaped at {}, below its operating pressure, {}", joint.id,
                           print(*joint.pressure, work.system, Toward::down), at),
               "soap it again at line pressure");
  if (joint.shows == Soaped::not_told)
    say(Grade::undecided, fmt::format("what soap showed on tie-in {} is not told", joint.id),
        "say it: --tie-in \"J-1@58psig no bubbles\"");
}

}  // namespace

void judge_other_way(const TestWork& work) {
  const TestQuestion& q = work.question;
  if (!q.pretested.empty()) {
    must_allow(work, "test.pretested", "pipe that was tested before it goes in",
               " does not stand for a test in place in this procedure",
               "test it in place; or have the engineer say why that is not feasible", "pretested");
    for (const Pretested& pipe : q.pretested) judge_record(work, pipe);
    if (q.tie_ins.empty())
      work.add(test_finding("test.tie_in", Grade::undecided,
                            "no tie-in is named: a test before the pipe goes in reaches none of "
                            "the joints that are made after it",
                            "name every joint and soap it at line pressure: --tie-in J-1",
                            "tie_ins"));
  }
  if (q.tie_ins.empty()) return;
  if (!q.line_pressure)
    work.tested.assumed.emplace_back(
        "tie-ins are soaped at the maximum operating pressure, since no line pressure was given");
  for (const TieIn& joint : q.tie_ins) judge_joint(work, joint, q.line_pressure.value_or(q.mop));
}

}  // namespace bellhole::restore
