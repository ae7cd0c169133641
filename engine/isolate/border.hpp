// The border of a zone: what lies on either side of it, whether it leaves a pocket, and how its
// inner side hangs together with the work.
#pragma once

#include <span>
#include <vector>

#include "isolate/local_cut.hpp"

namespace bellhole::isolate {

enum class Pocket : std::uint8_t {
  none,
  hanging,  ///< lies behind one vertex of the zone alone: lose that vertex and all of it is lost
  sealed,   ///< lies behind several vertices of the zone together
};

class Border {
 public:
  Border(const Layout& layout, LocalCut& cut, Scratch& scratch)
      : layout_(layout), cut_(cut), scratch_(scratch) {}

  /// Walks round the zone that `cut` holds: fills inner() and outer().
  void trace();
  /// Vertices of the zone with an edge out of it.
  [[nodiscard]] const std::vector<Place>& inner() const { return scratch_.inner; }
  /// Vertices outside with an edge into it, without the root.
  [[nodiscard]] const std::vector<Place>& outer() const { return scratch_.outer; }

  /// After trace(): a pocket, if there is one.
  Pocket find_pocket();
  /// Hanging: the vertex of the zone that it lies behind.
  [[nodiscard]] Place behind() const { return behind_; }
  /// Sealed: its vertices, and those of the zone that it touches.
  [[nodiscard]] const std::vector<Place>& pocket() const { return scratch_.pocket; }
  [[nodiscard]] const std::vector<Place>& shore() const { return scratch_.shore; }

  /// Vertices of the zone that join all of `targets` to the sources, sources left out. In this
  /// order each one touches a source or an earlier one.
  const std::vector<Place>& tree(const std::vector<Place>& targets);

 private:
  static std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

  bool find_hanging();
  void gather_runs();
  [[nodiscard]] bool has_clear_way(Place place) const;
  bool reaches_gas(Place from);
  void find_shore();

  const Layout& layout_;
  LocalCut& cut_;
  Scratch& scratch_;
  Place behind_ = nowhere;
  Stamp fed_ = 0;  ///< mark of places that are known to reach gas
};

}  // namespace bellhole::isolate
