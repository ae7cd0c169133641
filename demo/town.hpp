// Marlhaven on Skerrow, a town that does not exist: what stands where, before it is written as a
// map.
//
// The plan is drawn on straight local axes, u east and v north in metres, and then bent, so that
// its streets look like streets. The island lies in the open North Atlantic, at 46.2 N 39.0 W,
// where there is none.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace bellhole::demo {

struct XY {
  double x = 0.0, y = 0.0;
};
using Line = std::vector<XY>;

/// A place on the local axes, bent and put into EPSG:32624.
XY place(double u, double v);
/// A line through local points, with a bend every 25 m or so.
Line street(const std::vector<XY>& local);

/// A record of the layer gas_main. Lengths in feet and inches, as the gas office keeps them.
struct MainRecord {
  std::string id, press, code, street, surface, status = "IN SERVICE";
  std::string inserted, cased, two_way;  ///< "Y", "N" or ""
  int year = 0;                          ///< 0: not recorded
  double length_ft = 0.0;                ///< 0: not recorded
  double depth_in = 0.0;                 ///< 0: not recorded
  bool heights = false;                  ///< drawn in 3-D
  std::vector<Line> parts;
};

/// A record of a layer of points; the columns as the layer has them, "" for none.
struct PointRecord {
  XY at;
  std::vector<std::string> cells;
};

/// A line or an outline that is only drawn.
struct DrawnRecord {
  std::string kind, name;
  Line line;
};

struct Town {
  std::vector<MainRecord> mains;
  std::vector<PointRecord> valves;    ///< VALVE_ID, POS, NORMAL, LAST_TURNED, HOLDS, REACH
  std::vector<PointRecord> stations;  ///< REG_ID, NAME, IN_PRESS, OUT_PRESS, SET_AT, SENSE,
                                      ///< CAP_MSCFH, LEAST_IN, LOCKUP, RELIEF, CHECKED, RESET
  std::vector<PointRecord> taps;      ///< REG_ID
  std::vector<PointRecord> gates;     ///< GATE_ID, PRESS, SET_AT, CAP_MSCFH
  std::vector<PointRecord> premises;  ///< METER, CLASS, STREET, MUST, WHY, EFV
  std::vector<PointRecord> fittings;  ///< FIT_ID, TYPE, LEN_IN, NOTE
  std::vector<PointRecord> hydrants;  ///< HYD_ID
  std::vector<PointRecord> poles;     ///< POLE_NO
  std::vector<DrawnRecord> drawn;
};

/// The town as it is, without a fault in its records.
Town build_town();

/// Spoils some records the way real ones are spoilt. docs/handbook/maps.md lists what, and what
/// import says.
void spoil(Town& town);

/// A number that looks random and is the same on every machine: uniform in [0, 1).
double dice(std::uint64_t seed);

}  // namespace bellhole::demo
