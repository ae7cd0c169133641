// Stations, valves, customers, fittings, and what is only drawn.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "demo/builder.hpp"

namespace bellhole::demo {
namespace {

double distance(XY a, XY b) { return std::hypot(b.x - a.x, b.y - a.y); }

/// The point at a distance along a line.
XY along(const Line& line, double station) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double span = distance(line[i - 1], line[i]);
    if (station <= span) {
      const double t = station / span;
      return {line[i - 1].x + t * (line[i].x - line[i - 1].x),
              line[i - 1].y + t * (line[i].y - line[i - 1].y)};
    }
    station -= span;
  }
  return line.back();
}
double length(const Line& line) {
  double sum = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += distance(line[i - 1], line[i]);
  return sum;
}

}  // namespace

void Builder::stations() {
  town.gates.push_back({place(-1000, 650), {"GATE-1", "F", "56 psig", "450"}});
  town.stations.push_back({place(-32, 600),
                           {"REG-W", "West station", "F", "D", "42 psig", "OWN", "220", "30 psig",
                            "0.06", "50 psig", "Y", "N"}});
  town.stations.push_back({place(1537, 702),
                           {"REG-E", "East station", "F", "D", "42 psig", "REMOTE", "220",
                            "30 psig", "0.06", "50 psig", "N", "Y"}});
  town.stations.push_back({place(avenue(2) - aside, row(4) - 6),
                           {"REG-L", "Lantern Street district regulator", "D", "L", "11 inWC",
                            "OWN", "60", "10 psig", "0.15", "13.5 inWC", "", "N"}});
  // The East station feels the pressure 60 m down Beacon Street.
  town.taps.push_back({place(avenue(8) - 62, row(7) - aside), {"REG-E"}});
}

void Builder::valves() {
  const auto valve = [&](const char* id, double u, double v, const char* position,
                         const char* normal, const char* turned, const char* holds,
                         const char* reach) {
    town.valves.push_back({place(u, v), {id, position, normal, turned, holds, reach}});
  };
  valve("V-01", -985, 650, "O", "O", "2025-09-12", "Y", "Y");
  valve("V-02", -60, 650, "O", "O", "2025-09-12", "Y", "Y");
  valve("V-03", -40, 680, "O", "O", "2024-10-03", "Y", "Y");
  valve("V-04", 400, 1180, "O", "O", "", "", "Y");  // never proven
  valve("V-05", 1010, 1180, "O", "O", "2023-06-20", "Y", "Y");
  valve("V-06", 1540, 740, "O", "O", "2025-09-14", "Y", "Y");
  valve("V-07", -39, 625, "O", "O", "2025-09-12", "Y", "Y");
  valve("V-11", avenue(4) + 40, row(4) - aside, "O", "O", "2022-05-11", "Y", "Y");  // the bridge
  valve("V-12", avenue(5) - 40, row(9) - aside, "O", "O", "2009-04-02", "N",
        "Y");  // did not hold when last tried
  valve("V-13", 1530, 700, "O", "O", "2021-03-30", "Y", "Y");
  valve("V-14", 1700, 1145.7, "O", "O", "2019-08-19", "Y", "Y");
  valve("V-15", 1970, 457.9, "C", "C", "2018-07-07", "Y",
        "Y");  // the tie of Cliff Road, kept shut
  valve("V-16", avenue(3) - aside, row(6) + 40, "O", "O", "2011-11-11", "", "N");  // paved over
  valve("V-17", avenue(6) - aside, row(8) + 30, "O", "O", "2024-04-18", "Y", "Y");
  valve("V-18", avenue(0) - aside, row(8) + 20, "O", "O", "2024-04-18", "Y", "Y");
  valve("V-19", avenue(1) + 30, row(7) - aside, "O", "O", "2020-10-01", "Y", "Y");
  valve("V-20", avenue(2) - aside, row(3) + 40, "O", "O", "2017-02-14", "Y", "Y");
}

void Builder::fitting(XY at, const char* type, double length_in, std::string_view note) {
  town.fittings.push_back(
      {at,
       {fmt::format("T-{:05}", town.fittings.size() + 1), type,
        length_in > 0.0 ? fmt::format("{}", length_in) : "", std::string(note)}});
}

void Builder::premise(XY at, const char* meter_class, std::string_view name, std::string_view why) {
  const std::size_t number = town.premises.size();
  const bool efv = dice(number + 77) < 0.35;
  town.premises.push_back({at,
                           {fmt::format("{}", 400101 + 7 * number), meter_class, std::string(name),
                            why.empty() ? "" : "Y", std::string(why),
                            efv                        ? "Y"
                            : dice(number + 177) < 0.6 ? "N"
                                                       : ""}});
}

void Builder::houses(std::string_view name, XY from, XY to, double gap, int skip) {
  const double length_local = std::hypot(to.x - from.x, to.y - from.y);
  const double du = (to.x - from.x) / length_local, dv = (to.y - from.y) / length_local;
  const int count = static_cast<int>((length_local - 34.0) / gap);
  for (int side : {-1, 1}) {
    for (int k = 0; k < count; ++k) {
      const std::size_t number = lots_++;
      if (skip > 0 && dice(number + 31) < 1.0 / skip) continue;
      const double s = 18.0 + gap * (k + 0.5) + 4.0 * (dice(number + 501) - 0.5);
      const XY tee{from.x + s * du, from.y + s * dv};
      const double off = side * (13.0 + 5.0 * dice(number + 901));
      premise(place(tee.x - off * dv, tee.y + off * du), dice(number + 41) < 0.04 ? "SHOP" : "HOME",
              name, "");
      fitting(place(tee.x, tee.y), "STEE", 5.0, "");
    }
  }
}

void Builder::customers() {
  constexpr double lot = 11.4;
  for (int j = 0; j < 12; ++j) {
    const double v = row(j) - aside;
    for (int i = 0; i < 8; ++i) {
      if (i == 4) continue;  // the burn
      if (i == 3 && j < 4) {
        houses(streets[static_cast<std::size_t>(j)], {avenue(3) + 20, v}, {avenue(4) - aside, v},
               lot, 9);
        continue;
      }
      houses(streets[static_cast<std::size_t>(j)], {avenue(i) - aside, v},
             {avenue(i + 1) - aside, v}, lot, 9);
    }
  }
  houses("Gannet Road", {1580, 1117.1}, {1750, 1157.6}, 20.0, 8);
  houses("Gannet Road", {2000, 1178.8}, {2115, 1165.6}, 17.0, 8);
  houses("Gannet Road", {2125, 1164.4}, {2235, 1150.6}, 17.0, 8);
  houses("Point Lane", {2332, 1000}, {2340, 905}, 20.0, 8);
  houses("Gannet Close", {2119, 1155}, {2110, 1065}, 20.0, 0);
  premise(place(avenue(7) - 60, row(9) + 14), "HOSPITAL", streets[9],
          "hospital, boiler house and kitchens");
  premise(place(avenue(2) + 70, row(9) + 15), "SCHOOL", streets[9], "school, 640 children");
  premise(place(avenue(6) + 90, row(2) + 14), "HOME", streets[2], "dialysis at home");
  premise(place(2290, 1075), "CARE", "Point Lane", "care home, 40 beds");
  premise(place(1797, 52), "CANNERY", "Cannery Road", "");
  premise(place(avenue(1) + 60, row(7) + 13), "LAUNDRY", streets[7], "");
  premise(place(-700, 664), "SHOP", "Port Road", "");
}

void Builder::fittings() {
  constexpr double stick = 12.192;  // 40 ft, the length that straight pipe comes in
  for (const MainRecord& record : town.mains) {
    if (record.status != "IN SERVICE") continue;
    const bool straight = record.code.starts_with("8 PE") || record.code.starts_with("6 PE") ||
                          record.code.ends_with("4710");
    const Line& line = record.parts.front();
    const double whole = length(line);
    if (straight) {
      for (double s = stick; s < whole - 1.0; s += stick) fitting(along(line, s), "FUSE", 0.0, "");
    }
    if (record.code.starts_with("4 PE 11.5") && record.press == "D") {
      // Coiled 4-inch: couplings where coils meet, every 150 m.
      for (double s = 150.0; s < whole - 5.0; s += 150.0)
        fitting(along(line, s), "COUP", 8.0, "electrofusion coupling");
    }
  }
  fitting(place(620, 1180), "SQZ", 0.0, "squeezed 2013-08-02, clamp reinforced");
  fitting(place(655, 1180), "SQZ", 0.0, "squeezed 2013-08-02, clamp reinforced");
  fitting(place(avenue(6) - aside, row(5) + 35), "SQZ", 0.0, "squeezed 2007-05-22");
  fitting(place(avenue(1) + 44, row(7) - aside), "SQZ", 0.0, "squeezed 2016-10-10");
  fitting(place(avenue(6) - aside, row(5) + 50), "REPAIR", 14.0, "clamp over a dig-in of 2007");
  fitting(place(avenue(4) + 20, row(4) - aside), "TRANS", 30.0, "steel to PE at the bridge");
  fitting(place(avenue(5) - 22, row(4) - aside), "TRANS", 30.0, "PE to steel at the bridge");
  fitting(place(-300, 650), "TELEM", 0.0, "pressure transmitter PT-1");
  fitting(place(2230, 1151.2), "TELEM", 0.0, "pressure transmitter PT-2, end of the district");
  fitting(place(-34.4, 603), "RELIEF", 0.0, "relief of West station");
}

void Builder::drawing() {
  const auto draw = [&](const char* kind, std::string_view name, Line line) {
    town.drawn.push_back({kind, std::string(name), std::move(line)});
  };
  draw("coast", "", coast());
  for (std::size_t j = 0; j < streets.size(); ++j) {
    const double v = row(static_cast<double>(j));
    if (j == 4 || j == 9) {
      draw("street", streets[j], street({{avenue(0) - 40, v}, {avenue(8) + 10, v}}));
    } else {
      draw("street", streets[j], street({{avenue(0) - 40, v}, {avenue(4) + 10, v}}));
      draw("street", streets[j], street({{avenue(5) - 10, v}, {avenue(8) + 10, v}}));
    }
  }
  for (std::size_t i = 0; i < avenues.size(); ++i) {
    draw("street", avenues[i],
         street({{avenue(static_cast<double>(i)), -30},
                 {avenue(static_cast<double>(i)), row(11) + 30}}));
  }
  draw("street", "Port Road", street({{-1040, 653}, {-40, 653}}));
  draw("street", "Ring Road", street({{-37, 590}, {-37, 1183}}));
  draw("street", "North Ring", street({{-37, 1183}, {1543, 1183}}));
  draw("street", "East Ring", street({{1543, 1183}, {1543, 690}}));
  draw("street", "Gannet Road",
       street({{avenue(8), row(11)}, {1760, 1163}, {1990, 1183}, {2240, 1153}}));
  draw("street", "Point Lane", street({{2240, 1153}, {2333, 1010}, {2343, 900}}));
  draw("street", "Cliff Road",
       street(
           {{avenue(8), row(3)}, {1700, 333}, {1930, 423}, {2123, 600}, {2243, 780}, {2343, 900}}));
  draw("street", "Cannery Road", street({{avenue(8), row(1)}, {1690, 93}, {1803, 43}}));
  draw("street", "Gannet Close", street({{2123, 1165}, {2113, 1060}}));
  draw("water", "Marl Burn",
       street({{870, 1700},
               {835, 1300},
               {850, 1000},
               {830, 700},
               {855, 400},
               {840, 100},
               {860, -420}}));
  const auto box = [&](const char* name, double u, double v, double w, double h) {
    draw("building", name,
         {place(u, v), place(u + w, v), place(u + w, v + h), place(u, v + h), place(u, v)});
  };
  box("Skerrow Hospital", avenue(7) - 100, row(9) + 14, 70, 40);
  box("Marlhaven School", avenue(2) + 40, row(9) + 15, 60, 34);
  box("Care home", 2280, 1070, 26, 20);
  box("Cannery", 1795, 50, 70, 40);
  box("Town hall", avenue(3) + 30, row(5) + 14, 34, 22);
  for (std::size_t j = 0; j < streets.size(); ++j) {
    for (std::size_t i = 0; i < avenues.size(); ++i) {
      town.hydrants.push_back(
          {place(avenue(static_cast<double>(i)) + 6, row(static_cast<double>(j)) + 6),
           {fmt::format("H-{}{:02}", i + 1, j + 1)}});
    }
  }
  // Light poles across the street from the main, three to a block.
  const auto pole = [&](double u, double v) {
    town.poles.push_back({place(u, v), {fmt::format("{}", 1001 + 3 * town.poles.size())}});
  };
  for (int j = 0; j < 12; ++j) {
    for (int k = 1; k < 32; ++k) {
      const bool in_the_burn = k / 4 == 4 && j != 4 && j != 9;
      if (k % 4 != 0 && !in_the_burn) pole(avenue(k / 4.0), row(j) + 6);
    }
  }
  for (int k = 0; k < 32; ++k) pole(-30 + 50.0 * k, 1187);
  for (int k = 0; k < 18; ++k) pole(-980 + 52.0 * k, 657);
  for (int k = 0; k < 8; ++k)
    town.hydrants.push_back({place(-20 + 220.0 * k, 1189), {fmt::format("H-R{}", k + 1)}});
  for (int k = 0; k < 6; ++k)
    town.hydrants.push_back(
        {place(1620 + 120.0 * k, 1140 + (k < 4 ? 10.0 * k : 30.0)), {fmt::format("H-G{}", k + 1)}});
}

Town build_town() {
  Builder builder;
  builder.mains();
  builder.stations();
  builder.valves();
  builder.customers();
  builder.fittings();
  builder.drawing();
  return std::move(builder.town);
}

}  // namespace bellhole::demo
