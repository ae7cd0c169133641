// The press against CalculiX (Debian's calculix-ccx), a slice in plane strain between flat plates,
// one branch that is perfectly plastic: quadratic bricks with reduced integration on two meshes,
// finite strain, surface to surface contact with a stiff block as the plate. Where CalculiX stops
// converging the comparison stops. Prints the table of docs/theory/validation.md.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <numbers>
#include <sstream>

#include "tests/unit/flatten/rings.hpp"

namespace bellhole::flatten {
namespace {

constexpr double yield_mpa = 25.0, e_mpa = 1000.0;  // millimetres, newtons, megapascals

struct Grid {
  double od, wall;
  int through, around;
  double thick = 4.0;
  /// Node number at half steps: i through, j round, k along; 0 where a quadratic brick has none.
  [[nodiscard]] int node(int i, int j, int k) const {
    const int odd = (i & 1) + (j & 1) + (k & 1);
    if (odd > 1) return 0;
    return 1 + i + (2 * through + 1) * (j + (2 * around + 1) * k);
  }
};

void write_nodes(std::ostream& out, const Grid& g) {
  out << "*NODE, NSET=ALL\n";
  for (int k = 0; k <= 2; ++k)
    for (int j = 0; j <= 2 * g.around; ++j)
      for (int i = 0; i <= 2 * g.through; ++i) {
        const int n = g.node(i, j, k);
        if (n == 0) continue;
        const double r = g.od / 2.0 - g.wall * (1.0 - 0.5 * i / g.through);
        const double a = std::numbers::pi / 2.0 * j / (2.0 * g.around);
        out << fmt::format("{},{:.9g},{:.9g},{:.9g}\n", n,
                           j == 2 * g.around ? 0.0 : r * std::cos(a),
                           j == 0 ? 0.0 : r * std::sin(a), 0.5 * k * g.thick);
      }
}

void write_bricks(std::ostream& out, const Grid& g) {
  constexpr std::array<std::array<int, 3>, 20> at{
      {{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}, {0, 0, 2}, {2, 0, 2}, {2, 2, 2},
       {0, 2, 2}, {1, 0, 0}, {2, 1, 0}, {1, 2, 0}, {0, 1, 0}, {1, 0, 2}, {2, 1, 2},
       {1, 2, 2}, {0, 1, 2}, {0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1}}};
  out << "*ELEMENT, TYPE=C3D20R, ELSET=PIPE\n";
  int e = 0;
  for (int j = 0; j < g.around; ++j)
    for (int i = 0; i < g.through; ++i) {
      out << ++e;
      for (std::size_t n = 0; n < at.size(); ++n)
        out << (n == 10 ? ",\n" : ",") << g.node(2 * i + at[n][0], 2 * j + at[n][1], at[n][2]);
      out << "\n";
    }
}

void write_set(std::ostream& out, const char* name, const std::vector<int>& nodes) {
  out << "*NSET, NSET=" << name << "\n";
  for (const int n : nodes) out << n << ",\n";
}

/// The deck of a closing to `gap`.
std::string deck(const Grid& g, double gap) {
  std::ostringstream out;
  write_nodes(out, g);
  const int first = g.node(2 * g.through, 2 * g.around, 2) + 10;
  const double top = g.od / 2.0, size = g.od;
  int n = first;
  for (const double z : {0.0, g.thick})
    for (const auto& [x, y] :
         {std::pair(-0.05 * size, top), std::pair(0.75 * size, top),
          std::pair(0.75 * size, top + 10.0), std::pair(-0.05 * size, top + 10.0)})
      out << fmt::format("{},{:.9g},{:.9g},{:.9g}\n", n++, x, y, z);
  write_bricks(out, g);
  const int bricks = g.through * g.around;
  out << "*ELEMENT, TYPE=C3D8, ELSET=PLATE\n" << bricks + 1;
  for (int i = 0; i < 8; ++i) out << "," << first + i;
  out << "\n";
  std::vector<int> left, low, all;
  for (int k = 0; k <= 2; ++k)
    for (int j = 0; j <= 2 * g.around; ++j)
      for (int i = 0; i <= 2 * g.through; ++i)
        if (const int m = g.node(i, j, k); m != 0) {
          all.push_back(m);
          if (j == 2 * g.around) left.push_back(m);
          if (j == 0) low.push_back(m);
        }
  write_set(out, "LEFT", left);
  write_set(out, "LOW", low);
  write_set(out, "BODY", all);
  std::vector<int> plate;
  for (int i = 0; i < 8; ++i) plate.push_back(first + i);
  write_set(out, "TOP", plate);
  out << "*SURFACE, NAME=OUTSIDE, TYPE=ELEMENT\n";
  for (int j = 0; j < g.around; ++j) out << (j + 1) * g.through << ",S4\n";
  out << "*SURFACE, NAME=UNDER, TYPE=ELEMENT\n" << bricks + 1 << ",S3\n";
  out << fmt::format("*MATERIAL, NAME=PE\n*ELASTIC\n{},{}\n*PLASTIC\n{},0.\n{},10.\n", e_mpa,
                     ring_poisson, yield_mpa, yield_mpa * 1.001);
  out << "*MATERIAL, NAME=STIFF\n*ELASTIC\n1e6,0.3\n"
         "*SOLID SECTION, ELSET=PIPE, MATERIAL=PE\n*SOLID SECTION, ELSET=PLATE, MATERIAL=STIFF\n"
         "*SURFACE INTERACTION, NAME=TOUCH\n*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR\n400.\n"
         "*CONTACT PAIR, INTERACTION=TOUCH, TYPE=SURFACE TO SURFACE\nOUTSIDE,UNDER\n"
         "*BOUNDARY\nLEFT,1,1,0.\nLOW,2,2,0.\nBODY,3,3,0.\nTOP,1,1,0.\nTOP,3,3,0.\n";
  out << fmt::format(
      "*STEP, NLGEOM, INC=2000\n*STATIC\n0.01,1.,1e-6,0.02\n*BOUNDARY\nTOP,2,2,{:.9g}\n"
      "*NODE PRINT, NSET=TOP, TOTALS=ONLY\nRF\n*END STEP\n",
      -(g.od - gap) / 2.0);
  return out.str();
}

/// Force per millimetre of the whole pipe by gap, as far as CalculiX came.
std::map<double, double, std::greater<>> calculix(const Grid& g, double gap, const char* name) {
  const auto folder = std::filesystem::temp_directory_path() / "bellhole-calculix";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / (std::string(name) + ".inp")) << deck(g, gap);
  const std::string command = fmt::format("cd {} && OMP_NUM_THREADS=1 timeout 1500 ccx {} > {}.log",
                                          folder.string(), name, name);
  static_cast<void>(std::system(command.c_str()));
  std::map<double, double, std::greater<>> list;
  std::ifstream in(folder / (std::string(name) + ".dat"));
  std::string line;
  double time = 0.0;
  while (std::getline(in, line)) {
    if (const auto at = line.find("and time"); at != std::string::npos)
      time = std::strtod(line.c_str() + at + 8, nullptr);
    double fx = 0.0, fy = 0.0, fz = 0.0;
    if (std::istringstream(line) >> fx >> fy >> fz)
      list[g.od - (g.od - gap) * time] = 2.0 * std::abs(fy) / g.thick;
  }
  return list;
}

double at_gap(const std::map<double, double, std::greater<>>& list, double gap) {
  const auto after = list.upper_bound(gap + 1e-9);
  if (after == list.begin() || after == list.end()) return NAN;
  const auto before = std::prev(after);
  const double share = (before->first - gap) / (before->first - after->first);
  return before->second + share * (after->second - before->second);
}

void compare(double ratio) {
  const double od = 219.08, wall = od / ratio, gap = 2.0 * wall * 1.2;
  Press ring = plastic_ring(ratio, 6, 60, yield_mpa * 1e6);
  ring.samples = 200;
  ring.stages = {{Length::from_si(gap / 1e3), Duration::from_si(60), 14.0}};
  const Pressed own = pressed(ring);
  std::map<double, double, std::greater<>> ours;
  for (const Sample& sample : own.samples)
    ours[sample.gap.si() * 1e3] = sample.force.si() / own.thickness / 1e3;
  const auto coarse = calculix({od, wall, 3, 24}, gap, "coarse"),
             fine = calculix({od, wall, 4, 36}, gap, "fine");
  ASSERT_FALSE(fine.empty()) << "is calculix-ccx installed?";
  int compared = 0;
  for (double x = od / 2.0 / wall - 0.4; x >= 1.22; x -= 0.25) {
    const double a = at_gap(coarse, 2.0 * wall * x), b = at_gap(fine, 2.0 * wall * x);
    const double mine = at_gap(ours, 2.0 * wall * x);
    if (std::isnan(a) || std::isnan(b)) break;
    // Both meshes towards none: error with the square of the size of a brick.
    const double want = b + (b - a) / (std::pow(36.0 / 24.0, 2.0) - 1.0);
    fmt::print(
        "DR {} gap/2t {:.2f}: {:.1f} and {:.1f}, towards {:.1f}; own {:.1f} N/mm, {:+.1f} %\n",
        ratio, x, a, b, want, mine, 100.0 * (mine / want - 1.0));
    // Aimed at: 3 %. Hinges that move from brick to brick make all three curves wavy, so it is held
    // to 4 % and twice what CalculiX's own meshes differ by.
    EXPECT_NEAR(mine, want, 0.04 * want + 2.0 * std::abs(b - a)) << x;
    ++compared;
  }
  EXPECT_GT(compared, 5);
}

TEST(Calculix, PlaneStrainDr11) { compare(11); }
TEST(Calculix, PlaneStrainDr17) { compare(17); }

}  // namespace
}  // namespace bellhole::flatten
