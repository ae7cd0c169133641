#include "sheets/flatten_picture.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>
#include <numbers>
#include <vector>

#include "sheets/canvas.hpp"

namespace bellhole::sheets {
namespace {

using wire::Json;

constexpr double across = 400.0, margin = 20.0;  // points

/// A quarter's line and its mirror images as one closed line round the middle.
std::vector<Point> round(const Json& quarter, double scale, Point middle) {
  std::vector<std::array<double, 2>> line;
  for (const Json& p : quarter) line.push_back({p.at(0).get<double>(), p.at(1).get<double>()});
  std::vector<Point> all;
  const auto add = [&](double x, double y) {
    all.push_back({middle.x + scale * x, middle.y - scale * y});
  };
  for (auto p = line.begin(); p != line.end(); ++p) add((*p)[0], (*p)[1]);
  for (auto p = line.rbegin(); p != line.rend(); ++p) add(-(*p)[0], (*p)[1]);
  for (auto p = line.begin(); p != line.end(); ++p) add(-(*p)[0], -(*p)[1]);
  for (auto p = line.rbegin(); p != line.rend(); ++p) add((*p)[0], -(*p)[1]);
  all.push_back(all.front());
  return all;
}

/// The unloaded circle as a quarter.
Json circle(double radius) {
  constexpr int steps = 32;
  Json list = Json::array();
  for (int i = 0; i <= steps; ++i) {
    const double a = std::numbers::pi / 2.0 * i / steps;
    list.push_back({radius * std::cos(a), radius * std::sin(a)});
  }
  return list;
}

std::string vectors(std::string_view name, const Json& from, const Json& to) {
  std::string text = fmt::format("VECTORS {} double\n", name);
  for (std::size_t i = 0; i < from.size(); ++i)
    for (std::size_t k = 0; k < 3; ++k)
      fmt::format_to(std::back_inserter(text), "{:.9g}{}",
                     to.at(i).at(k).get<double>() - from.at(i).at(k).get<double>(),
                     k == 2 ? "\n" : " ");
  return text;
}

bool is_drawable(const Json& reply) {
  return reply.contains("at_least_gap") && reply.contains("at_end") &&
         reply.value("od_m", 0.0) > 0.0 && reply.value("width_m", 0.0) > 0.0;
}

}  // namespace

Result<std::string> flatten_svg(const Json& reply) {
  if (!is_drawable(reply))
    return trouble(Code::unreadable_document, "at_least_gap", "", "give a reply of `flatten`");
  const double od = reply.at("od_m").get<double>(), wall = reply.at("wall_m").get<double>();
  const double scale = across / std::max(od, reply.at("width_m").get<double>());
  const PaperSize paper{across + 2.0 * margin, scale * od + 2.0 * margin + 24.0};
  const Point middle{paper.w / 2.0, margin + scale * od / 2.0};
  BELLHOLE_TRY(canvas, Canvas::svg(paper));
  constexpr std::array<double, 2> dashes{3.0, 3.0}, dots{1.0, 2.0};
  canvas->polyline(round(circle(od / 2.0), scale, middle), {.width = 0.5, .dash = dashes});
  canvas->polyline(round(circle(od / 2.0 - wall), scale, middle), {.width = 0.5, .dash = dashes});
  const bool opened = reply.value("opened", false);
  for (const char* line : {"outer_m", "inner_m"}) {
    canvas->polyline(round(reply.at("at_least_gap").at(line), scale, middle), {.width = 1.4});
    if (opened)
      canvas->polyline(round(reply.at("at_end").at(line), scale, middle),
                       {.width = 0.9, .dash = dots});
  }
  canvas->text({margin, paper.h - margin - 8.0}, across,
               {opened ? "under the bars: before (dashed), at the stops, at the end (dotted)"
                       : "under the bars: before (dashed), at the stops"});
  return canvas->finish();
}

Result<std::string> flatten_vtk(const Json& reply) {
  const auto found = reply.find("mesh");
  if (found == reply.end() || !found->is_object())
    return trouble(Code::missing_value, "mesh", "", "ask for the mesh");
  const Json &nodes = found->at("nodes_m"), &bricks = found->at("bricks");
  std::string text =
      "# vtk DataFile Version 3.0\nA pipe between bars, an eighth of it, metres\nASCII\n"
      "DATASET UNSTRUCTURED_GRID\n";
  fmt::format_to(std::back_inserter(text), "POINTS {} double\n", nodes.size());
  for (const Json& node : nodes)
    fmt::format_to(std::back_inserter(text), "{:.9g} {:.9g} {:.9g}\n", node.at(0).get<double>(),
                   node.at(1).get<double>(), node.at(2).get<double>());
  fmt::format_to(std::back_inserter(text), "CELLS {} {}\n", bricks.size(), 9 * bricks.size());
  // VTK goes round each face; here corner 3 lies diagonally across from corner 0.
  constexpr std::array<std::size_t, 8> order{0, 1, 3, 2, 4, 5, 7, 6};
  for (const Json& brick : bricks) {
    text += "8";
    for (const std::size_t n : order)
      fmt::format_to(std::back_inserter(text), " {}", brick.at(n).get<int>());
    text += '\n';
  }
  fmt::format_to(std::back_inserter(text), "CELL_TYPES {}\n", bricks.size());
  for (std::size_t i = 0; i < bricks.size(); ++i) text += "12\n";
  fmt::format_to(std::back_inserter(text), "POINT_DATA {}\n", nodes.size());
  return text + vectors("to_the_stops", nodes, found->at("at_least_gap_m")) +
         vectors("to_the_end", nodes, found->at("at_end_m"));
}

}  // namespace bellhole::sheets
