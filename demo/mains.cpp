// The mains of the town, three tiers: feeder (F), district (D) and low pressure (L).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "demo/builder.hpp"

namespace bellhole::demo {
namespace {

/// Codes of the gas office: size, kind, ratio, material.
constexpr const char* pe8_new = "8 PE 13.5 4710";
constexpr const char* pe8_old = "8 PE 11 3408";
constexpr const char* pe6 = "6 PE 11.5 3408";
constexpr const char* pe4 = "4 PE 11.5 2406";
constexpr const char* pe4_new = "4 PE 11 4710";
constexpr const char* pe2 = "2 PE 11 2406";
constexpr const char* ci6 = "6 CI";
constexpr const char* st2 = "2 ST";

}  // namespace

MainRecord& Builder::main(const char* press, const char* code, std::string_view name,
                          const std::vector<XY>& local, int year) {
  MainRecord record;
  record.id = fmt::format("M-{:04}", town.mains.size() + 101);
  record.press = press;
  record.code = code;
  record.street = name;
  record.year = year;
  record.surface = std::string_view(press) == "L"  ? "cobbles"
                   : dice(town.mains.size()) < 0.7 ? "asphalt"
                                                   : "grass verge";
  record.inserted = "N";
  record.cased = "N";
  record.depth_in = 30.0 + std::round(12.0 * dice(town.mains.size() + 5000));
  record.parts.push_back(street(local));
  double length = 0.0;
  const Line& line = record.parts.back();
  for (std::size_t k = 1; k < line.size(); ++k)
    length += std::hypot(line[k].x - line[k - 1].x, line[k].y - line[k - 1].y);
  // Taped in the street to the foot; a third was never taped.
  if (dice(town.mains.size() + 9000) < 0.66) record.length_ft = std::round(length / 0.3048);
  town.mains.push_back(std::move(record));
  return town.mains.back();
}

/// The feeder: from the gate at the port round the north of the town to the East station.
void Builder::feeder() {
  main("F", pe8_old, "Port Road", {{-1000, 650}, {-520, 650}}, 1994).heights = true;
  main("F", pe8_old, "Port Road", {{-520, 650}, {-40, 650}}, 1994).heights = true;
  main("F", pe6, "Ring Road", {{-40, 650}, {-34, 600}}, 1994).heights = true;
  main("F", pe8_new, "Ring Road", {{-40, 650}, {-40, 1180}}, 2009).heights = true;
  main("F", pe8_new, "North Ring", {{-40, 1180}, {420, 1180}}, 2009).heights = true;
  main("F", pe8_new, "North Ring", {{420, 1180}, {980, 1180}}, 2009).heights = true;
  main("F", pe8_new, "North Ring", {{980, 1180}, {1540, 1180}}, 2009).heights = true;
  main("F", pe6, "East Ring", {{1540, 1180}, {1540, 705}}, 2009).heights = true;
}

/// East-west mains of the district, each over two or three blocks, so that others end on their
/// middle.
void Builder::district_streets() {
  for (int j = 0; j < 12; ++j) {
    const double v = row(j) - aside;
    const bool backbone = j == 4 || j == 7;
    const char* code = backbone ? pe4 : pe2;
    const int year = backbone ? 1986 : 1984 + (j * 7) % 12;
    const auto run = [&](int from, int to) {
      std::vector<XY> local;
      for (int i = from; i <= to; ++i) local.push_back({avenue(i) - aside, v});
      main("D", code, streets[static_cast<std::size_t>(j)], local, year);
    };
    if (j >= 4) {
      run(0, 2);
      run(2, 4);
    } else {
      // Dead ends that stop short of the low-pressure mains of the old town.
      main("D", pe2, streets[static_cast<std::size_t>(j)],
           {{avenue(4) - aside, v}, {avenue(3) + 14, v}}, year);
    }
    if (j == 4)
      main("D", pe4_new, streets[4], {{avenue(4) - aside, v}, {avenue(5) - aside, v}}, 2012);
    if (j == 9) main("D", pe2, streets[9], {{avenue(4) - aside, v}, {avenue(5) - aside, v}}, 1991);
    run(5, 7);
    run(7, 8);
  }
}

void Builder::district_avenues() {
  const auto run = [&](int i, int from, int to, const char* code, int year) {
    // Where street mains pass through, avenue mains end; elsewhere they run over two blocks.
    const int blocks = i == 1 || i == 3 || i == 6 ? 1 : 2;
    for (int j = from; j < to; j += blocks) {
      std::vector<XY> local;
      for (int k = j; k <= std::min(j + blocks, to); ++k)
        local.push_back({avenue(i) - aside, row(k) - aside});
      main("D", code, avenues[static_cast<std::size_t>(i)], local, year);
    }
  };
  run(0, 4, 11, pe4, 1986);
  run(1, 4, 8, pe2, 1988);
  run(3, 4, 11, pe4, 1986);
  run(4, 0, 11, pe2, 1990);
  run(5, 0, 11, pe2, 1990);
  run(6, 2, 11, pe4, 1987);
  run(8, 0, 11, pe4, 1987);
  // From the stations into the district.
  main("D", pe6, avenues[0], {{-30, 600}, {avenue(0) - aside, row(6) - aside}}, 1994);
  main("D", pe6, "East Ring", {{1534, 700}, {avenue(8) - aside, row(7) - aside}}, 2009);
}

/// The old town: cast iron, some of it with PE pushed through, at inches of water.
void Builder::low_pressure_mains() {
  for (int j = 0; j <= 3; ++j) {
    const double v = row(j) - aside;
    for (int i = 0; i < 3; ++i) {
      const bool inserted = j == 1 || (j == 2 && i > 0);
      auto& record =
          main("L", inserted ? pe4 : ci6, streets[static_cast<std::size_t>(j)],
               {{avenue(i) - aside, v}, {avenue(i + 1) - aside, v}}, inserted ? 1989 : 1926);
      if (inserted) record.inserted = "Y";
    }
  }
  for (int i = 0; i <= 3; ++i) {
    for (int j = 0; j < 3; ++j) {
      if (i == 1 && j == 1) continue;
      main("L", ci6, avenues[static_cast<std::size_t>(i)],
           {{avenue(i) - aside, row(j) - aside}, {avenue(i) - aside, row(j + 1) - aside}}, 1926);
    }
  }
  // From the district regulator in Lantern Street down Keel Avenue.
  main("L", "6 PE 11.5 3408", avenues[2],
       {{avenue(2) - aside, row(4) - 9}, {avenue(2) - aside, row(3) - aside}}, 1989);
}

/// Gannet Point: a hamlet beyond the town on one long main, and a second way in behind a shut
/// valve.
void Builder::gannet_point() {
  const double u0 = avenue(8) - aside, v0 = row(11) - aside;
  main("D", pe4, "Gannet Road", {{u0, v0}, {1760, 1160}, {1990, 1180}}, 1996).two_way = "Y";
  main("D", pe4, "Gannet Road", {{1990, 1180}, {2120, 1165}, {2240, 1150}}, 1996).two_way = "Y";
  main("D", pe2, "Point Lane", {{2240, 1150}, {2330, 1010}, {2340, 900}}, 1996);
  main("D", pe2, "Gannet Close", {{2120, 1165}, {2110, 1060}}, 1998);
  main("D", pe4, "Cliff Road", {{u0, row(3) - aside}, {1700, 330}, {1930, 420}}, 1996).two_way =
      "Y";
  main("D", pe4, "Cliff Road", {{1930, 420}, {2120, 600}, {2240, 780}, {2340, 900}}, 1996).two_way =
      "Y";
  main("D", pe4, "Cannery Road", {{u0, row(1) - aside}, {1690, 90}, {1800, 40}}, 1999);
}

/// Stubs of steel, left where mains were once to go on.
void Builder::stubs() {
  const auto stub = [&](double u, double v, double du, double dv, std::string_view name) {
    main("D", st2, name, {{u, v}, {u + du, v + dv}}, 1968);
    fitting(place(u + du, v + dv), "STUB", 0.0,
            "steel stub, capped, not cathodically tested since 2011");
  };
  stub(avenue(0) - aside, row(11) - aside, 0, 22, avenues[0]);
  stub(avenue(5) - aside, row(0) - aside, 0, -18, avenues[5]);
  stub(avenue(8) - aside, row(5) - aside, 24, 0, streets[5]);
}

/// Mains that were taken out of service and are still drawn.
void Builder::abandoned() {
  auto& first =
      main("D", ci6, streets[6], {{avenue(1), row(6) + 3}, {avenue(3), row(6) + 3}}, 1931);
  first.status = "ABANDONED";
  auto& second =
      main("D", st2, streets[9], {{avenue(6), row(9) + 3}, {avenue(7), row(9) + 3}}, 1952);
  second.status = "ABANDONED";
}

void Builder::mains() {
  feeder();
  district_streets();
  district_avenues();
  low_pressure_mains();
  gannet_point();
  stubs();
  abandoned();
}

}  // namespace bellhole::demo
