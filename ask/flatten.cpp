// "flatten": one pipe through a squeeze in three dimensions, for engineers.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/questions.hpp"
#include "wire/closed.hpp"
#include "wire/pipe_run.hpp"

#include "flatten/grades.hpp"

namespace bellhole::ask {
namespace {

Finding finding_of(std::string rule, Grade grade, std::string says, std::string action) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.quantity = "force";
  finding.unit_si = kinds::Force::symbol;
  finding.source = "own three-dimensional computation; no measured pipe";
  finding.about = "pipe";
  return finding;
}

constexpr double account_share = 0.02;  // of the work of the bars

Findings findings_of(const wire::AskedRun& asked, const flatten::PipeRunAnswer& answer) {
  Findings list;
  list.push_back(finding_of(
      "flatten.prediction", Grade::info,
      "a computation with a curve put together from grade values; a pipe differs by 15 % and more",
      "compare a gauge with it; nothing is qualified by it"));
  list.push_back(finding_of(
      "flatten.hardly_sure", Grade::warn,
      "the strain in the fold moves with the size of the bricks, and how far a pipe comes back is "
      "the least sure of all: no measured pipe was found for either",
      "look at the pipe; do not judge damage or re-rounding by these numbers"));
  if (flatten::is_extrapolated(*asked.pipe.temperature))
    list.push_back(finding_of("flatten.extrapolated", Grade::warn,
                              "the pipe is colder or warmer than the data behind its yield, 14 to "
                              "158 degF (-10 to 70 degC)",
                              "trust a gauge, not the computation"));
  const auto& energy = answer.pressed.energy;
  const double off = std::abs(energy.off()), moving = energy.most_kinetic_share;
  if (off > account_share || moving > account_share)
    list.push_back(finding_of(
        "flatten.account", Grade::warn,
        fmt::format(
            "the account of energy is off by {:.1f} %, and at most {:.1f} % of the work was "
            "in motion: over 2 % the forces are doubtful",
            100.0 * off, 100.0 * moving),
        "ask again with finer bricks"));
  return list;
}

}  // namespace

Answer flatten(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"gap", "bar_radius", "pressure", "wall"}));
  BELLHOLE_TRY(asked, wire::read_pipe_run(request));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, flatten::run(asked.run, question.context.watch, question.context.lanes));
  question.assumed.emplace_back("bars round and rigid");
  wire::Json reply = wire::pipe_run_json(asked, answer);
  reply["units"] = wire::word_of(system);
  wire::put_answer(reply, findings_of(asked, answer), question.assumed);
  return reply;
}

}  // namespace bellhole::ask
