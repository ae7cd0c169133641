// Mains cut into pipes: where the end of another main stops on them, where a station or a source
// stands on them, and, if the mapping wants it, where they cross.
#pragma once

#include <cstddef>
#include <vector>

#include "maps/joints.hpp"

namespace bellhole::maps {

/// A pipe: a main, or the part of a main between two joints.
struct Piece {
  std::size_t main = 0;
  std::size_t part = 0, parts = 1;  ///< the `part`th of `parts` pieces of its main
  std::size_t from = 0, to = 0;     ///< joints
  Line line;
  double begin = 0.0;  ///< station along the main's drawn line where it begins
};

/// Cuts to be made; joints are added to as places are asked for.
class Splitter {
 public:
  Splitter(std::vector<Main>& mains, Joined& joined, const Mapping& mapping, Report& report);

  /// Loose ends that stop on the middle of another main of their tier within the snap tolerance are
  /// moved onto it and split it. Ends that several mains share do so only where the main passes
  /// through the very place. Ends that lie near, and are not joined, are reported.
  void tees();
  /// Mains of one tier that cross without a joint: reported, and joined only if the mapping says
  /// so.
  void crossings();
  /// The joint of `tier` at a place, within `reach`: one that is there, or a new one on the nearest
  /// main. Answers nothing when no main of the tier is that near.
  std::optional<std::size_t> joint_near(XY place, network::Index tier, double reach);

  /// Mains with an end that lies near another main and is not joined to it, or that touch nothing
  /// at all.
  [[nodiscard]] std::size_t not_snapping() const;

  /// The pipes, in the order of the mains, and a row for every main that was split.
  std::vector<Piece> pieces();

 private:
  struct Cut {
    double station;
    std::size_t joint;
    auto operator<=>(const Cut&) const = default;
  };
  struct Near {
    std::size_t main;
    Foot foot;
  };
  std::vector<Near> mains_near(XY at, network::Index tier, double reach) const;
  bool ends_on(std::size_t main, std::size_t joint) const;
  bool cut_at(std::size_t main, std::size_t joint) const;
  bool inside(std::size_t main, const Foot& foot) const;
  void add_cut(std::size_t main, double station, std::size_t joint);
  void hand_over(std::size_t joint, std::size_t to);
  [[nodiscard]] bool vanishes(std::size_t joint, XY at) const;
  void tee(std::size_t joint);
  void move_onto(std::size_t joint, const Near& near);
  bool tied(std::size_t joint, const Near& near, double reach) const;
  void report_gaps(std::size_t joint);
  std::size_t new_joint(XY at, network::Index tier);
  std::optional<std::size_t> joint_on(std::size_t main, XY at) const;
  void cross(std::size_t a, std::size_t b, XY at);

  std::vector<Main>& mains_;
  Joined& joined_;
  const Mapping& mapping_;
  Report& report_;
  SegmentIndex index_;
  PointIndex joints_;
  std::vector<std::vector<Cut>> cuts_;            ///< of each main
  std::vector<std::vector<std::size_t>> owners_;  ///< mains that end on each joint
  std::vector<std::size_t> cuts_at_;              ///< cuts made at each joint
  std::vector<std::uint8_t> open_;  ///< mains with an end that lies near and is not joined
};

}  // namespace bellhole::maps
