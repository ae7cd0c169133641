// An assessment whose forces rest on more than the closed form as it stands: a yield refitted from
// the company's own pump log, or a closing that was computed in three dimensions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "flatten/pipe_run.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::squeeze {

struct Forces {
  /// What the log makes of the yield on record (refit.hpp); missing: 1.
  std::optional<double> yield_scale;
  /// Expected forces of this pipe between these bars, from touch; empty: the table's where it
  /// reaches and the yield is the one on record, else the closed form's.
  std::vector<flatten::Sample> computed;
  /// Filled by assess(): the closing to compute; missing where the forces cannot be told.
  std::optional<flatten::PipeRun> closing;
};

/// What expected forces come from: hand formulas, a table of full runs, a run of this pipe.
enum class Source { closed_form, table, full };

/// Of an assessed sheet. It says so itself, first among what its forces assume.
Source source_of(const Sheet& sheet);

/// How the band came about, in words.
std::string band_method_of(Source source);

/// As assess() of sheet.hpp, by these forces.
Result<Sheet> assess(const Question& question, const procedure::Profile& profile,
                     units::System units, Forces& forces);

}  // namespace bellhole::squeeze
