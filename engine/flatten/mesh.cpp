#include "flatten/mesh.hpp"

#include <cmath>
#include <numbers>

namespace bellhole::flatten {
namespace {

/// Stations along the pipe: the first of length `finest`, each further one longer by one factor.
std::vector<double> stations(const Shape& shape) {
  if (shape.half_length <= 0.0) return {0.0, shape.wall / shape.through};
  double low = 1.0, high = 2.0;
  const auto reaches = [&](double factor) {
    double sum = 0.0, step = shape.finest;
    for (int i = 0; i < shape.along; ++i, step *= factor) sum += step;
    return sum;
  };
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (reaches(middle) < shape.half_length ? low : high) = middle;
  }
  std::vector<double> z{0.0};
  double step = shape.finest;
  for (int i = 0; i < shape.along; ++i, step *= high) z.push_back(z.back() + step);
  const double stretch = shape.half_length / z.back();
  for (double& each : z) each *= stretch;
  return z;
}

/// Angles from the ear, 0, to under the bar, 90 degrees.
std::vector<double> angles(const Shape& shape) {
  const double factor = std::pow(shape.toward_ear, 1.0 / std::max(1, shape.around - 1));
  std::vector<double> angle{0.0};
  double step = 1.0;
  for (int i = 0; i < shape.around; ++i, step *= factor) angle.push_back(angle.back() + step);
  const double turn = std::numbers::pi / 2.0 / angle.back();
  for (double& each : angle) each *= turn;
  return angle;
}

}  // namespace

Mesh mesh_of(const Shape& shape) {
  const std::vector<double> z = stations(shape), angle = angles(shape);
  const auto layers = static_cast<std::int32_t>(shape.through);
  const auto sectors = static_cast<std::int32_t>(shape.around);
  const auto slices = static_cast<std::int32_t>(z.size()) - 1;
  const auto node = [&](std::int32_t i, std::int32_t j, std::int32_t k) {
    return (k * (sectors + 1) + j) * (layers + 1) + i;
  };
  Mesh mesh;
  for (std::int32_t k = 0; k <= slices; ++k) {
    for (std::int32_t j = 0; j <= sectors; ++j) {
      for (std::int32_t i = 0; i <= layers; ++i) {
        const double r = shape.od / 2.0 - shape.wall * (1.0 - static_cast<double>(i) / layers);
        const auto a = angle[static_cast<std::size_t>(j)];
        mesh.nodes.push_back({j == sectors ? 0.0 : r * std::cos(a), j == 0 ? 0.0 : r * std::sin(a),
                              z[static_cast<std::size_t>(k)]});
        const bool slice = shape.half_length <= 0.0;
        mesh.held.push_back({static_cast<std::uint8_t>(j == sectors),
                             static_cast<std::uint8_t>(j == 0),
                             static_cast<std::uint8_t>(k == 0 || slice)});
      }
    }
  }
  for (std::int32_t k = 0; k < slices; ++k) {
    for (std::int32_t j = 0; j < sectors; ++j) {
      for (std::int32_t i = 0; i < layers; ++i) {
        mesh.bricks.push_back({node(i, j, k), node(i + 1, j, k), node(i, j + 1, k),
                               node(i + 1, j + 1, k), node(i, j, k + 1), node(i + 1, j, k + 1),
                               node(i, j + 1, k + 1), node(i + 1, j + 1, k + 1)});
      }
      mesh.inside.push_back(
          {node(0, j, k), node(0, j + 1, k), node(0, j + 1, k + 1), node(0, j, k + 1)});
    }
  }
  for (std::int32_t j = 0; j <= sectors; ++j) {
    mesh.inner.push_back(node(0, j, 0));
    mesh.outer.push_back(node(layers, j, 0));
  }
  return mesh;
}

}  // namespace bellhole::flatten
