// What the parts of a watch share. Internal to linepack/.
#pragma once

#include "linepack/watch.hpp"

namespace bellhole::linepack {

struct Work {
  const WatchQuestion& question;
  const procedure::Profile& profile;
  units::System system;
  Watched& watched;

  [[nodiscard]] bool falls() const { return question.asks != Asks::shut_off_tight; }
  [[nodiscard]] int steps() const { return question.gauge.steps; }
  /// What the needle must move before it counts as moved.
  [[nodiscard]] PressureDifference visible() const {
    return question.gauge.step * static_cast<double>(question.gauge.steps);
  }
  /// The gauge reads so little that a fall cannot show on it, even to nothing.
  [[nodiscard]] bool blind() const {
    return falls() && question.pressure - GaugePressure() <= visible();
  }
  void add(Finding finding) const { watched.findings.push_back(std::move(finding)); }
};

/// A finding of this room: arithmetic on what was entered.
Finding found(std::string rule, Grade grade, std::string says, std::string action,
              std::string about);

void find_doubts(const Work& work);  ///< watch_doubts.cpp: of the draw, the gauge, drift, floor
void find_needle(const Work& work);  ///< watch_needle.cpp: what the readings say
void say(const Work& work);          ///< watch_says.cpp: the sentence, and what it may not mean

}  // namespace bellhole::linepack
