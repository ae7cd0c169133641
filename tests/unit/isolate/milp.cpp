#include "milp.hpp"

#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace bellhole::isolate::test {

namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// The part of the network that has gas, as a program in LP format.
class Program {
 public:
  Program(const Sketch& sketch, const std::vector<Vertex>& work)
      : sketch_(sketch),
        fed_(reached(sketch, std::vector<bool>(sketch.edges.size()),
                     std::vector<bool>(sketch.supplies.size()))),
        inflow_(sketch.lost.size()) {
    for (std::size_t v = 0; v < fed_.size(); ++v) {
      if (fed_[v]) vertex(v);
    }
    for (std::size_t e = 0; e < sketch.edges.size(); ++e) {
      if (fed_[at(sketch.edges[e].a)] && sketch.edges[e].a != sketch.edges[e].b) edge(e);
    }
    for (std::size_t s = 0; s < sketch.supplies.size(); ++s) supply(s);
    for (const Vertex v : work) {
      if (fed_[at(v)]) rows_ << " y" << v << " = 1\n";
    }
    for (std::size_t v = 0; v < fed_.size(); ++v) {
      if (fed_[v]) rows_ << inflow_[v] << " + y" << v << " = 1\n";
    }
  }

  void write(std::ostream& out) const {
    out << "Minimize\n obj: " << costs_.str() << "\nSubject To\n"
        << rows_.str() << "Binaries\n"
        << names_.str() << "End\n";
  }

 private:
  void vertex(std::size_t v) {
    names_ << " y" << v << '\n';
    if (sketch_.lost[v] == forbidden) {
      rows_ << " y" << v << " = 0\n";
      cost(0, "y", v);
    } else {
      cost(sketch_.lost[v], "y", v);
    }
  }

  void edge(std::size_t e) {
    const auto [a, b, shut] = sketch_.edges[e];
    if (shut == forbidden) {
      rows_ << " y" << a << " - y" << b << " = 0\n";
    } else {
      rows_ << " x" << e << " - y" << a << " + y" << b << " >= 0\n";
      rows_ << " x" << e << " - y" << b << " + y" << a << " >= 0\n";
      cost(shut, "x", e);
    }
    flow("f" + std::to_string(e), a, b);
    flow("g" + std::to_string(e), b, a);
  }

  void supply(std::size_t s) {
    const auto [v, shut] = sketch_.supplies[s];
    if (shut == forbidden) {
      rows_ << " y" << v << " = 0\n";
    } else {
      rows_ << " s" << s << " - y" << v << " >= 0\n";
      cost(shut, "s", s);
    }
    inflow_[at(v)] += " + h" + std::to_string(s);
    rows_ << " h" << s << " + " << most() << " y" << v << " <= " << most() << '\n';
  }

  void flow(const std::string& name, Vertex from, Vertex to) {
    inflow_[at(from)] += " - " + name;
    inflow_[at(to)] += " + " + name;
    for (const Vertex end : {from, to})
      rows_ << ' ' << name << " + " << most() << " y" << end << " <= " << most() << '\n';
  }

  void cost(Cost value, const char* kind, std::size_t index) {
    costs_ << " + " << value << ' ' << kind << index << '\n';
  }

  [[nodiscard]] std::size_t most() const { return sketch_.lost.size(); }

  const Sketch& sketch_;
  std::vector<bool> fed_;
  std::vector<std::string> inflow_;
  std::ostringstream costs_, rows_, names_;
};

/// CBC's "Total time (CPU seconds): 0.02 ...".
double seconds_in(const std::filesystem::path& log) {
  const std::string label = "Total time (CPU seconds):";
  std::ifstream in(log);
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with(label)) return std::strtod(line.c_str() + label.size(), nullptr);
  }
  return 0;
}

}  // namespace

std::optional<Optimum> solve_with_cbc(const std::string& cbc, const std::string& folder,
                                      const Sketch& sketch, const std::vector<Vertex>& work) {
  const std::filesystem::path model = std::filesystem::path(folder) / "question.lp";
  const std::filesystem::path answer = std::filesystem::path(folder) / "answer.txt";
  const std::filesystem::path log = std::filesystem::path(folder) / "cbc.log";
  std::filesystem::create_directories(folder);
  std::filesystem::remove(answer);
  {
    std::ofstream out(model);
    Program(sketch, work).write(out);
  }
  const std::string command = "'" + cbc + "' '" + model.string() +
                              "' -ratioGap 0 -allowableGap 0 -solve -solution '" + answer.string() +
                              "' > '" + log.string() + "' 2>&1";
  if (std::system(command.c_str()) != 0) return std::nullopt;
  std::ifstream in(answer);
  std::string first;
  std::getline(in, first);
  if (first.starts_with("Infeasible") || first.starts_with("Integer infeasible")) return Optimum{};
  const std::string label = "Optimal - objective value ";
  if (!first.starts_with(label)) return std::nullopt;
  const double value = std::strtod(first.c_str() + label.size(), nullptr);
  const Cost cost = std::llround(value);
  if (std::abs(value - static_cast<double>(cost)) > 1e-3) return std::nullopt;
  return Optimum{true, cost, seconds_in(log)};
}

}  // namespace bellhole::isolate::test
