// Whether this pipe may be squeezed at all: what it is, how old, how warm, what is around it.
#include <fmt/format.h>

#include <array>

#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

constexpr std::string_view engineer = "ask the company's engineer before anything is squeezed";

Finding pipe_finding(std::string rule, Grade grade, std::string says, std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.about = std::move(about);
  finding.action = engineer;
  return finding;
}

struct Attribute {
  std::string_view name;
  pipe::Told told;
  std::string_view why;
};

void judge_lining(const Work& work) {
  const pipe::Lining& lining = work.sheet.pipe.lining;
  const std::array attributes{
      Attribute{"inserted", lining.inserted,
                "a pipe inside an old one cannot be squeezed through it, and gas can run along the "
                "outside"},
      Attribute{"cased", lining.cased,
                "the casing keeps the bars from the pipe, and gas can run along it"},
      Attribute{"layered", lining.layered,
                "a skin or barrier layer can crack or slip, and the wall that seals is not the "
                "wall that is measured"},
      Attribute{"lined", lining.lined, "a liner may stay open when the outer wall is closed"}};
  std::string unknown;
  for (const Attribute& attribute : attributes) {
    if (attribute.told == pipe::Told::unknown) {
      unknown += (unknown.empty() ? "" : ", ") + std::string(attribute.name);
    } else if (attribute.told == pipe::Told::yes) {
      Finding finding =
          pipe_finding(fmt::format("pipe.{}", attribute.name), Grade::halt,
                       fmt::format("the pipe is {}: {}", attribute.name, attribute.why),
                       std::string(attribute.name));
      finding.source = "a squeeze acts on a plain pipe wall only";
      work.add(std::move(finding));
    }
  }
  if (unknown.empty()) return;
  Finding finding = pipe_finding("pipe.lining", Grade::undecided,
                                 fmt::format("not told whether the pipe is {}", unknown), unknown);
  finding.source = "a squeeze acts on a plain pipe wall only";
  finding.action = "look at the exposed pipe and its records, and say yes or no";
  work.add(std::move(finding));
}

void judge_material(const Work& work) {
  const pipe::Material* material = work.sheet.pipe.material;
  if (material == nullptr) {
    Finding finding =
        pipe_finding("pipe.material", Grade::undecided, "the material is not known", "material");
    finding.source = "ASTM F1734: what a squeeze does depends on the material";
    finding.evidence = Evidence::seen;
    finding.action = "read the print line; " + std::string(engineer);
    work.add(std::move(finding));
  } else if (!material->history.empty()) {
    Finding finding =
        pipe_finding("pipe.material", Grade::undecided,
                     fmt::format("{}: {}", material->name, material->history), "material");
    finding.source = material->history;
    finding.evidence = Evidence::seen;
    work.add(std::move(finding));
  }
}

void judge_age(const Work& work) {
  const auto& made = work.sheet.pipe.made;
  std::optional<double> value;
  if (made)
    value = static_cast<double>(made->first);  // of a whole year, the first day is the unsafe end
  work.judge("squeeze.made_from", {"making date of the pipe", value, "made",
                                   "squeeze only by a tool, pipe and procedure that were qualified "
                                   "together (ASTM F1734), or elsewhere",
                                   "read the print line or the records: --made or --year"});
}

void judge_temperature(const Work& work) {
  const auto& temperature = work.sheet.pipe.temperature;
  std::optional<double> value;
  if (temperature) value = temperature->si();
  const std::string know = "measure the pipe's surface: --pipe-temperature";
  work.judge("squeeze.temperature_least",
             {"pipe temperature", value, "pipe_temperature",
              "warm the pipe or wait; the engineer decides on slower closing and opening", know});
  work.judge("squeeze.temperature_most",
             {"pipe temperature", value, "pipe_temperature",
              "shade or cool the pipe; soft pipe is easily squeezed too far", know});
}

void judge_measured_wall(const Work& work) {
  const Found& found = work.sheet.pipe;
  if (!work.sheet.walls) return;
  const pipe::Walls& walls = *work.sheet.walls;
  if (!walls.note.empty()) {
    Finding finding = pipe_finding("pipe.wall_table", Grade::warn, walls.note, "wall");
    finding.source = walls.source;
    finding.evidence = walls.evidence;
    finding.action = "measure the wall and give it: --wall";
    work.add(std::move(finding));
  }
  if (!walls.measured || !found.ratio) return;
  const auto table = pipe::walls_by_ratio(found.size, *found.ratio, "dr");
  if (!table || (walls.minimum >= table->minimum && walls.maximum <= table->maximum)) return;
  const auto print = [&](Length wall) { return units::print(wall, work.units); };
  Finding finding =
      pipe_finding("pipe.wall_against_ratio", Grade::undecided,
                   fmt::format("the measured wall ({} to {}) is not that of {} {:g} ({} to {})",
                               print(walls.minimum), print(walls.maximum), found.size.name,
                               *found.ratio, print(table->minimum), print(table->maximum)),
                   "wall");
  finding.quantity = "thinnest measured wall";
  finding.value_si = walls.minimum.si();
  finding.limit_si = table->minimum.si();
  finding.unit_si = kinds::Length::symbol;
  finding.source = table->source;
  finding.evidence = table->evidence;
  finding.action = "measure again, read the print line again: one of the two is another pipe";
  work.add(std::move(finding));
}

}  // namespace

void judge_pipe(const Work& work) {
  judge_lining(work);
  judge_material(work);
  judge_age(work);
  judge_temperature(work);
  const Length od = work.sheet.pipe.size.od;
  work.judge("squeeze.od_most", {"outside diameter", od.si(), "size",
                                 "shut off some other way, or have the engineer decide", ""});
  judge_measured_wall(work);
}

}  // namespace bellhole::squeeze
