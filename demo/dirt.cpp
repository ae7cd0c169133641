// What is wrong with the records of Marlhaven's gas office, as with any gas office's. Some of it
// import can mend and say so; the rest it leaves out, or leaves open, and says so.
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "demo/plan.hpp"

namespace bellhole::demo {
namespace {

MainRecord& in_street(Town& town, std::string_view name, std::string_view press, std::size_t nth) {
  for (MainRecord& record : town.mains) {
    if (record.street == name && record.press == press && record.status == "IN SERVICE" &&
        nth-- == 0)
      return record;
  }
  throw std::logic_error("the plan has no such main: " + std::string(name));
}
std::vector<std::string>& valve(Town& town, std::string_view id) {
  for (PointRecord& record : town.valves) {
    if (record.cells[0] == id) return record.cells;
  }
  throw std::logic_error("the plan has no such valve: " + std::string(id));
}

/// Pulls the last point of a line back by a distance.
void shorten(Line& line, double by) {
  XY& end = line.back();
  const XY before = line[line.size() - 2];
  const double span = std::hypot(end.x - before.x, end.y - before.y);
  end = {end.x + by * (before.x - end.x) / span, end.y + by * (before.y - end.y) / span};
}

void spoil_lines(Town& town) {
  // Ends that stop short of where they belong.
  shorten(in_street(town, "Heron Street", "D", 0).parts[0], 0.31);
  shorten(in_street(town, "Gull Street", "D", 1).parts[0], 0.22);
  shorten(in_street(town, "Oar Avenue", "D", 2).parts[0], 0.18);
  shorten(in_street(town, "Quay Street", "L", 1).parts[0], 0.27);
  // One that stops too short to be mended: a tie that nobody has seen for years.
  shorten(in_street(town, "Mast Avenue", "D", 3).parts[0], 1.9);
  // One main drawn in two pieces that meet, one in two that do not.
  auto& meet = in_street(town, "Signal Street", "D", 0);
  const Line whole = meet.parts[0];
  const auto middle = static_cast<std::ptrdiff_t>(whole.size() / 2);
  meet.parts = {Line(whole.begin(), whole.begin() + middle + 1),
                Line(whole.begin() + middle, whole.end())};
  auto& apart = in_street(town, "Point Lane", "D", 0);
  apart.parts.push_back({place(2352, 903), place(2362, 899)});
  // Points entered twice.
  auto& twice = in_street(town, "Tide Street", "D", 0).parts[0];
  twice.insert(twice.begin() + 3, twice[2]);
}

void spoil_records(Town& town) {
  // A size that was never entered, and one that no table has.
  in_street(town, "North Street", "D", 1).code = "";
  in_street(town, "Ropewalk", "D", 2).code = "2 XX";
  // A pipe of which nobody wrote down whether it was pushed through an old one.
  in_street(town, "Chandler Street", "L", 0).inserted = "";
  in_street(town, "Cooper Street", "L", 1).inserted = "?";
  // The same number on two mains, and one record entered twice.
  in_street(town, "Anchor Street", "D", 2).id = in_street(town, "Anchor Street", "D", 3).id;
  town.mains.push_back(in_street(town, "Gannet Close", "D", 0));
  // Lines without length, without place, and with a place that is no number.
  MainRecord bad = in_street(town, "Gull Street", "D", 0);
  const XY spot = bad.parts[0][4];
  bad.id = "M-9001";
  bad.parts = {{spot, spot}};
  town.mains.push_back(bad);
  bad.id = "M-9002";
  bad.parts.clear();
  town.mains.push_back(bad);
  bad.id = "M-9003";
  bad.parts = {{spot, {std::numeric_limits<double>::quiet_NaN(), spot.y}}};
  town.mains.push_back(bad);
  // A line typed in degrees into a map in metres.
  bad.id = "M-9004";
  bad.parts = {{{-38.996, 46.198}, {-38.994, 46.199}}};
  town.mains.push_back(bad);
  // A main across two streets' mains that nobody mapped a joint for.
  bad.id = "M-9005";
  bad.code = "2 PE 11 2406";
  bad.street = "Sailmaker Alley";
  bad.length_ft = 0.0;
  bad.parts = {street({{avenue(7) - aside, row(5) - aside},
                       {avenue(7) + 2, row(6) - 40},
                       {avenue(7) + 3, row(7) + 35}})};
  town.mains.push_back(bad);
}

void spoil_points(Town& town) {
  valve(town, "V-19")[1] = "?";
  town.valves.push_back({place(avenue(6) + 30, row(6) + 45),
                         {"V-21", "O", "O", "2020-05-05", "Y", "Y"}});  // in a garden
  town.valves.push_back({place(avenue(3) - aside, row(7) - aside),
                         {"V-22", "O", "O", "2016-05-05", "Y", "Y"}});  // on a joint
  town.valves.push_back({place(avenue(8) - aside, row(9) - 30),
                         {"V-17", "O", "O", "2015-01-20", "Y", "Y"}});  // number used before
  // A farm far from any main, a meter with its coordinates the wrong way round, a class nobody
  // knows.
  town.premises.push_back({place(1250, 1480), {"499001", "HOME", "North Ring", "", "", ""}});
  town.premises.push_back({{5116400.0, 500600.0}, {"499002", "HOME", "Tide Street", "", "", ""}});
  town.premises[40].cells[1] = "HOTEL?";
  town.premises[41].cells[0] = town.premises[42].cells[0];
}

}  // namespace

void spoil(Town& town) {
  spoil_lines(town);
  spoil_records(town);
  spoil_points(town);
}

}  // namespace bellhole::demo
