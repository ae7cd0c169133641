// Fills a town part by part. Internal to demo/.
#pragma once

#include <string_view>
#include <vector>

#include "demo/plan.hpp"

namespace bellhole::demo {

struct Builder {
  Town town;

  void mains();
  void stations();
  void valves();
  void customers();
  void fittings();
  void drawing();

 private:
  MainRecord& main(const char* press, const char* code, std::string_view name,
                   const std::vector<XY>& local, int year);
  void fitting(XY at, const char* type, double length_in, std::string_view note);
  void premise(XY at, const char* meter_class, std::string_view name, std::string_view why);
  /// Houses on both sides of a stretch of street whose main lies on local (u, v) to (u2, v2).
  void houses(std::string_view name, XY from, XY to, double gap, int skip);

  void feeder();
  void district_streets();
  void district_avenues();
  void low_pressure_mains();
  void gannet_point();
  void stubs();
  void abandoned();

  std::uint64_t lots_ = 0;  ///< building lots seen so far, for dice()
};

}  // namespace bellhole::demo
