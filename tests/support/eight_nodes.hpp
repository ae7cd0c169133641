// The eight-node network of Srinivasan, Sundar, Gyrya, Zlotnik, IEEE Transactions on Control of
// Network Systems 10 (2023) 1449, ideal gas. Its three compressors are ideal pressure ratios, which
// Bellhole has not: here each is a source and a draw that are matched from outside. Its friction
// factors are given; each main gets the roughness with which Colebrook's equation has that factor
// at the published flow.
#pragma once

#include <array>

namespace bellhole::support {

struct EightNodes {
  std::array<double, 9> pa_abs{};  ///< by node; 2, 3, 4, 5, 7 and 8 are solved
  double kg_per_s_7_to_3 = 0.0, kg_per_s_3_to_4 = 0.0, kg_per_s_2_to_4 = 0.0;
};
EightNodes solve_eight_nodes();

}  // namespace bellhole::support
