// Bricks with eight nodes and one point of integration: how their nodes' motion strains them, how
// their stress pulls at the nodes, and what keeps a brick from the twelve shapes that this one
// point does not see (hourglasses: Flanagan and Belytschko, Int. J. Numer. Meth. Eng. 17 (1981)
// 679; their stiffness after Belytschko and Bindeman, Comput. Meth. Appl. Mech. Eng. 105 (1993)
// 225, with the modulus that the brick has left).
//
// Stresses and hourglass forces live in the frame that turns with the material, the rotation R of
// F = R U, so that turning alone changes nothing (Green and Naghdi; Flanagan and Taylor, Comput.
// Meth. Appl. Mech. Eng. 62 (1987) 305): right also where shear is large.
//
// Four bricks are worked at a time (lane.hpp), each of the four in its own column.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "flatten/lane.hpp"
#include "flatten/mesh.hpp"
#include "flatten/overlay.hpp"

namespace bellhole::flatten {

using Vector = std::array<double, 3>;

struct Step {
  double seconds = 0.0;           ///< of the motion
  double material_seconds = 0.0;  ///< of the material's clock
  double yields = 1.0;            ///< share of yields and moduli by temperature and grade
  double hourglass = 1.0;         ///< share of what the unseen strain would resist with
  double lately = 1.0;            ///< share of the last step in a mean of the last ones
  double density = 950.0;         ///< kg/m3
};

class Bricks {
 public:
  /// REQUIRES: no brick of the mesh is inside out; the overlay has at most 8 branches.
  Bricks(const Mesh& mesh, const Overlay& material);

  /// Bricks are worked in blocks; work on different blocks may run at the same time.
  [[nodiscard]] std::size_t blocks() const { return blocks_.size(); }

  /// What the next moves of the blocks are to be.
  void set(const Step& step);

  /// Moves one block on by a step that ends at `at` with the velocities `v`. The volume of every
  /// brick must stay above 0 (stable_step says).
  void move(std::size_t block, std::span<const Vector> at, std::span<const Vector> v);

  /// What brick `brick` pulls at its node `corner` with, N, after `move`.
  [[nodiscard]] Vector force(std::size_t brick, std::size_t corner) const;

  /// Largest step of the motion that is stable for the bricks of a block, s; 0 where one of them is
  /// inside out.
  [[nodiscard]] double stable_step(std::size_t block, double yields, double density,
                                   std::span<const Vector> at) const;

  [[nodiscard]] double volume(std::size_t brick) const;  ///< unloaded, m3

  struct Work {
    double strain = 0.0, hourglass = 0.0;  ///< J
  };
  [[nodiscard]] Work work() const;

 private:
  using Lane3 = std::array<Lane, 3>;
  using Lane33 = std::array<Lane3, 3>;
  struct Block {
    std::array<std::array<std::int32_t, 8>, lane_width> nodes{};
    Lane33 begun{};                     ///< inverse Jacobian of the unloaded shape, in frame
    Lane begun_volume{}, log_volume{};  ///< the second: ln J
    Lane33 turned{};                    ///< R
    std::array<Lane3, 4> hourglass{};   ///< forces, in the turning frame
    Lane tangent{};                     ///< shear modulus that they were met with
    std::array<Lane3, 8> force{};       ///< on the nodes
    std::array<Lane3, 8> pull{};        ///< the same by patterns of the corners (bricks.cpp)
    std::array<Lane, 5> lately{};       ///< deviator of a step's strain, mean of the last steps
    Lane flowed_lately{};               ///< Pa that the branches gave way by in a step, mean
    Lane all_work{}, hourglass_work{};  ///< J; the first holds the second
  };
  /// Deviator of a branch in the turning frame: xx yy xy yz zx.
  using BranchState = std::array<Lane, 5>;
  /// A branch over the step that is set, its numbers ready.
  struct Flowing {
    float twice_shear = 0.0F, yield = 0.0F, by_unit = 0.0F, unit = 0.0F, ln_a = 0.0F;
  };

  struct Kernel;

  Overlay material_;
  Step step_;
  std::vector<Flowing> flowing_;
  std::vector<Block> blocks_;
  std::vector<BranchState> branches_;  ///< of a block one after the other
  std::size_t count_ = 0;
};

}  // namespace bellhole::flatten
