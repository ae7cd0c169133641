// What the parts of judging a recording share. Internal to squeeze/.
#pragma once

#include "squeeze/recording.hpp"

namespace bellhole::squeeze {

struct RecordingWork {
  const Recording& recording;
  const Sheet& sheet;
  units::System units;
  Judged& judged;

  /// The row of the sheet's profile that was used for a rule; null: none is set.
  [[nodiscard]] const procedure::Row* row(std::string_view rule) const;
  template <class Kind>
  [[nodiscard]] std::optional<Quantity<Kind>> limit(std::string_view rule) const {
    const procedure::Row* found = row(rule);
    const double* number = found != nullptr ? std::get_if<double>(&found->value) : nullptr;
    if (number == nullptr) return std::nullopt;
    return Quantity<Kind>::from_si(*number);
  }
  /// Adds a deviation, and a finding of the row's grade that says the same.
  void breach(Deviation deviation, std::string quantity, std::string action) const;
  /// Adds a deviation beside one that a finding speaks of already.
  void list(Deviation deviation) const { judged.deviations.push_back(std::move(deviation)); }
  void add(std::string rule, Grade grade, std::string says, std::string action) const;
  [[nodiscard]] std::string print(Length gap) const;
};

void judge_paces(const RecordingWork& work);    ///< recording_paces.cpp
void judge_waits(const RecordingWork& work);    ///< recording_waits.cpp
void judge_shut(const RecordingWork& work);     ///< recording_shut.cpp
void say_not_known(const RecordingWork& work);  ///< recording_shut.cpp

}  // namespace bellhole::squeeze
