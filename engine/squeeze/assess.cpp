#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

procedure::Case case_of(const Question& question) {
  using procedure::Listed;
  using procedure::Ranged;
  const Found& pipe = question.pipe;
  procedure::Case in;
  in[Listed::size] = pipe.size.name;
  in[Ranged::od] = procedure::Between{pipe.size.od.si(), pipe.size.od.si()};
  if (pipe.material != nullptr) in[Listed::material] = std::string(pipe.material->name);
  if (pipe.temperature)
    in[Ranged::temperature] = procedure::Between{pipe.temperature->si(), pipe.temperature->si()};
  if (question.tool) in[Listed::tool] = question.tool->id;
  if (pipe.made) {
    in[Ranged::made] = procedure::Between{static_cast<double>(pipe.made->first),
                                          static_cast<double>(pipe.made->last)};
  }
  return in;
}

Result<std::optional<pipe::Walls>> walls_of(const Found& found) {
  if (!found.readings.empty()) {
    BELLHOLE_TRY(measured, pipe::walls_measured(found.size, found.readings, "wall"));
    return std::optional(measured);
  }
  if (!found.ratio) return std::optional<pipe::Walls>();
  BELLHOLE_TRY(walls, pipe::walls_by_ratio(found.size, *found.ratio, "dr"));
  return std::optional(walls);
}

}  // namespace

Result<Sheet> assess(const Question& question, const procedure::Profile& profile,
                     units::System units) {
  Forces forces;
  return assess(question, profile, units, forces);
}

Result<Sheet> assess(const Question& question, const procedure::Profile& profile,
                     units::System units, Forces& forces) {
  Sheet sheet;
  sheet.pipe = question.pipe;
  sheet.tool = question.tool;
  BELLHOLE_TRY(walls, walls_of(question.pipe));
  if (question.pipe.ratio) {  // a measured wall does not excuse a ratio that no table has
    BELLHOLE_TRY(by_ratio, pipe::walls_by_ratio(question.pipe.size, *question.pipe.ratio, "dr"));
    static_cast<void>(by_ratio);
  }
  sheet.walls = walls;
  const Work work{question, profile, case_of(question), units, sheet, forces};
  rate_pipe(work);
  judge_pressure(work);
  choose_gap(work);
  judge_tool(work);
  judge_pipe(work);
  const Result<bool> paced = set_pace(work);
  if (!paced) return std::unexpected(paced.error());
  if (question.places) {
    expect_force(work);
    find_places(work);
  }
  return sheet;
}

}  // namespace bellhole::squeeze
