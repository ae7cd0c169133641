#include "tests/scenario/drawing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "units/parse.hpp"

namespace bellhole::scenario {

using network::Index;
using network::Network;
using network::none;
using network::Position;

namespace {

constexpr double metres_a_character = 10.0;
constexpr double kg_per_mol = 0.6 * 28.9647e-3;

const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                     .ground = Temperature::from_si(288.15)};

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

Index find(const std::vector<std::string>& ids, std::string_view id) {
  const auto found = std::ranges::find(ids, id);
  if (found == ids.end()) ADD_FAILURE() << "no " << id << " in the picture";
  return found == ids.end() ? 0 : static_cast<Index>(found - ids.begin());
}

template <class Kind>
Quantity<Kind> read(std::string_view text) {
  if (text.empty()) return Quantity<Kind>::from_si(support::unknown);
  const auto value = units::parse<Kind>(text, "test");
  if (!value) ADD_FAILURE() << text << ": " << value.error().fix;
  return value ? value->value : Quantity<Kind>();
}

double bore_m(int inches) {
  const std::map<int, double> usual{{2, 1.943}, {3, 2.864}, {4, 3.682}, {6, 5.421}, {8, 7.057}};
  const auto found = usual.find(inches);
  if (found == usual.end()) ADD_FAILURE() << "no main of " << inches << " inches";
  return (found == usual.end() ? 2.0 : found->second) * support::inch;
}

}  // namespace

/// Turns a picture into a town.
class Reader {
 public:
  Reader(std::string_view picture, support::Town& town) : town_(town) {
    for (std::size_t begin = 0; begin <= picture.size();) {
      const std::size_t end = std::min(picture.find('\n', begin), picture.size());
      lines_.emplace_back(picture.substr(begin, end - begin));
      begin = end + 1;
    }
  }

  void read() {
    for (std::size_t y = 0; y < lines_.size(); ++y) {
      for (std::size_t x = 0; x < lines_[y].size(); ++x) {
        if (is_node(lines_[y][x])) node(x, y);
      }
    }
    for (std::size_t y = 0; y < lines_.size(); ++y) {
      for (std::size_t x = 0; x < lines_[y].size(); ++x) {
        if (!is_node(lines_[y][x])) continue;
        walk(x, y, 1, 0);
        walk(x, y, 0, 1);
      }
    }
  }

 private:
  static bool is_node(char c) { return c >= 'A' && c <= 'Z' && c != 'R' && c != 'S' && c != 'V'; }
  [[nodiscard]] char sign(std::size_t x, std::size_t y) const {
    return y < lines_.size() && x < lines_[y].size() ? lines_[y][x] : ' ';
  }
  static std::string name(char c) { return std::string(1, c); }

  void node(std::size_t x, std::size_t y) {
    town_.node(name(lines_[y][x]), none, 10.0 * static_cast<double>(x),
               -10.0 * static_cast<double>(y));
  }

  /// From a node along one direction to the next node, if anything leads there.
  void walk(std::size_t x, std::size_t y, std::size_t dx, std::size_t dy) {
    const std::string start = name(sign(x, y));
    std::string marks;
    for (x += dx, y += dy; sign(x, y) != ' ' && !is_node(sign(x, y)); x += dx, y += dy)
      marks += sign(x, y);
    if (marks.empty()) return;
    if (!is_node(sign(x, y))) {
      ADD_FAILURE() << "a main from " << start << " leads nowhere";
      return;
    }
    const std::string end = name(sign(x, y));
    const std::size_t regulator = marks.find_first_of("<>");
    if (regulator == std::string::npos) return main(start, end, marks);
    if (marks.find_first_of("<>", regulator + 1) != std::string::npos) {
      ADD_FAILURE() << "two regulators need a node between them";
    }
    const std::string id = "R" + std::to_string(town_.net.regulators.size() + 1);
    const Index left = town_.node(id + " left", none), right = town_.node(id + " right", none);
    const bool rightward = marks[regulator] == '>';
    town_.regulator(id, rightward ? left : right, rightward ? right : left, 1.0);
    main(start, id + " left", marks.substr(0, regulator), start + "-" + id);
    main(id + " right", end, marks.substr(regulator + 1), id + "-" + end);
  }

  void main(const std::string& from, const std::string& to, const std::string& marks,
            std::string id = "") {
    const std::size_t digit = marks.find_first_of("0123456789");
    if (digit == std::string::npos)
      ADD_FAILURE() << "the main " << from << "-" << to << " has no size";
    const double length = metres_a_character * static_cast<double>(marks.size() + 1);
    const int inches = digit == std::string::npos ? 2 : marks[digit] - '0';
    if (id.empty()) id = from + "-" + to;
    const Index pipe = town_.pipe(id, find(town_.net.nodes.id, from), find(town_.net.nodes.id, to),
                                  length, bore_m(inches));
    town_.net.pipes.nominal_size.back() = "IPS " + std::to_string(inches);
    town_.net.pipes.ratio.back() = 11.0;
    for (std::size_t k = 0; k < marks.size(); ++k) {
      const double station = metres_a_character * static_cast<double>(k + 1);
      if (marks[k] == 'c')
        town_.customer("C" + std::to_string(town_.net.customers.size() + 1), pipe, station, 0.0);
      if (marks[k] == 'v' || marks[k] == 'x') {
        town_.valve("V" + std::to_string(town_.net.valves.size() + 1), pipe, station,
                    marks[k] == 'v' ? Position::open : Position::closed);
      }
    }
  }

  support::Town& town_;
  std::vector<std::string> lines_;
};

Drawing::Drawing(std::string_view picture) { Reader(picture, town_).read(); }

Drawing& Drawing::tier(std::string_view node, std::string_view name, std::string_view maop,
                       std::string_view least) {
  const Index tier = town_.tier(std::string(name), read<kinds::GaugePressure>(maop).si(),
                                read<kinds::GaugePressure>(least).si());
  std::vector<Index> queue{find(town_.net.nodes.id, node)};
  town_.net.nodes.tier[at(queue.front())] = tier;
  for (std::size_t k = 0; k < queue.size(); ++k) {
    for (std::size_t p = 0; p < town_.net.pipes.size(); ++p) {
      const Index from = town_.net.pipes.from[p], to = town_.net.pipes.to[p];
      if (from != queue[k] && to != queue[k]) continue;
      const Index other = from == queue[k] ? to : from;
      if (town_.net.nodes.tier[at(other)] == tier) continue;
      town_.net.nodes.tier[at(other)] = tier;
      queue.push_back(other);
    }
  }
  return *this;
}

Drawing& Drawing::feed(std::string_view node, std::string_view pressure,
                       std::string_view capacity) {
  town_.source("S" + std::to_string(town_.net.sources.size() + 1), find(town_.net.nodes.id, node),
               read<kinds::GaugePressure>(pressure).si(), read<kinds::StdFlow>(capacity).si());
  return *this;
}

Drawing& Drawing::regulator(std::string_view id, std::string_view set_point,
                            std::string_view capacity) {
  auto& regulators = town_.net.regulators;
  const std::size_t r = at(find(regulators.id, id));
  regulators.set_point[r] = read<kinds::GaugePressure>(set_point);
  regulators.capacity[r] = read<kinds::StdFlow>(capacity);
  return *this;
}

Drawing& Drawing::feels(std::string_view regulator, std::string_view where) {
  auto& regulators = town_.net.regulators;
  const std::size_t r = at(find(regulators.id, regulator));
  const network::Closure tap = place(where);
  regulators.sensing[r] = network::Sensing::remote;
  regulators.tap_pipe[r] = tap.pipe;
  regulators.tap_station[r] = tap.station;
  return *this;
}

Drawing& Drawing::one_way(std::string_view regulator) {
  town_.net.regulators.blocks_reverse[at(find(town_.net.regulators.id, regulator))] =
      network::Ternary::yes;
  return *this;
}

Drawing& Drawing::feels_unknown(std::string_view regulator) {
  const std::size_t r = at(find(town_.net.regulators.id, regulator));
  town_.net.regulators.sensing[r] = network::Sensing::unknown;
  town_.net.regulators.tap_pipe[r] = none;
  return *this;
}

Drawing& Drawing::station(std::string_view regulator, std::string_view name) {
  town_.net.regulators.station_name[at(find(town_.net.regulators.id, regulator))] = name;
  return *this;
}

Drawing& Drawing::lock_up(std::string_view regulator, double share) {
  town_.net.regulators.lock_up[at(find(town_.net.regulators.id, regulator))] = share;
  return *this;
}

Drawing& Drawing::relief(std::string_view regulator, std::string_view pressure) {
  town_.net.regulators.relief[at(find(town_.net.regulators.id, regulator))] =
      read<kinds::GaugePressure>(pressure);
  return *this;
}

Drawing& Drawing::trips(std::string_view regulator) {
  town_.net.regulators.needs_reset[at(find(town_.net.regulators.id, regulator))] =
      network::Ternary::yes;
  return *this;
}

Drawing& Drawing::must_not_lose(std::string_view customer, std::string_view why) {
  const std::size_t c = at(find(town_.net.customers.id, customer));
  town_.net.customers.must_not_lose[c] = 1;
  town_.net.customers.why_not[c] = why;
  return *this;
}

Drawing& Drawing::customers(std::string_view draw) {
  for (auto& base : town_.net.customers.base) base = read<kinds::StdFlow>(draw);
  return *this;
}

Drawing& Drawing::customer(std::string_view id, std::string_view draw, std::string_view least) {
  const std::size_t c = at(find(town_.net.customers.id, id));
  town_.net.customers.base[c] = read<kinds::StdFlow>(draw);
  town_.net.customers.least[c] = read<kinds::GaugePressure>(least);
  return *this;
}

Drawing& Drawing::height(std::string_view node, std::string_view height) {
  town_.net.nodes.elevation[at(find(town_.net.nodes.id, node))] = read<kinds::Length>(height);
  return *this;
}

network::Closure Drawing::place(std::string_view text) const {
  const std::size_t sign = text.find('@');
  if (sign == std::string_view::npos) ADD_FAILURE() << text << " is no place";
  return {find(town_.net.pipes.id, text.substr(0, sign)),
          read<kinds::Length>(text.substr(sign + 1))};
}

network::Scenario Drawing::scenario(const std::vector<std::string>& shut) const {
  network::Scenario scenario{.air = Temperature::from_si(283.15)};
  for (const std::string& what : shut) {
    if (what.find('@') != std::string::npos) {
      scenario.closures.push_back(place(what));
    } else if (what.front() == 'V') {
      scenario.valves.push_back({find(town_.net.valves.id, what), Position::closed});
    } else {
      scenario.regulators_shut.push_back(find(town_.net.regulators.id, what));
    }
  }
  return scenario;
}

Result<network::SteadyState> Drawing::solve(const std::vector<std::string>& shut) const {
  BELLHOLE_TRY(model, network::Model::prepare(town_.net, conditions));
  return model.solve(scenario(shut));
}

Answer Drawing::flow(const std::vector<std::string>& shut) const {
  const auto model = network::Model::prepare(town_.net, conditions);
  if (!model) ADD_FAILURE() << model.error().where << ": " << model.error().fix;
  const network::Scenario asked = scenario(shut);
  auto state = model->solve(asked);
  if (!state) ADD_FAILURE() << state.error().where << ": " << state.error().fix;
  return {*model, asked, std::move(*state)};
}

network::Feeds Drawing::feeds(std::string_view where) const {
  const network::Closure here = place(where);
  return network::feeds_of(town_.net, here.pipe, here.station);
}

Answer::Answer(const network::Model& model, const network::Scenario& scenario,
               network::SteadyState state)
    : network_(model.network()),
      state_(std::move(state)),
      findings_(network::findings(model, scenario, state_, units::System::us)),
      kg_per_scf_per_h_(gas::us_base.pressure.si() * kg_per_mol /
                        (gas::molar_gas_constant * gas::us_base.temperature.si()) *
                        support::cubic_foot_per_hour) {}

double Answer::psig(std::string_view node) const {
  return state_.node_pressure[at(find(network_.nodes.id, node))].si() / support::psi;
}
double Answer::inwc(std::string_view node) const {
  return state_.node_pressure[at(find(network_.nodes.id, node))].si() / support::inch_of_water;
}
double Answer::psig_at_customer(std::string_view customer) const {
  return state_.customer_pressure[at(find(network_.customers.id, customer))].si() / support::psi;
}

double Answer::scfh(std::string_view what) const {
  const auto is = [&](const std::vector<std::string>& ids) {
    return std::ranges::find(ids, what) != ids.end();
  };
  double kg_per_s = 0.0;
  if (is(network_.regulators.id)) {
    kg_per_s = state_.regulators[at(find(network_.regulators.id, what))].flow.si();
  } else if (is(network_.sources.id)) {
    kg_per_s = state_.sources[at(find(network_.sources.id, what))].flow.si();
  } else {
    kg_per_s = state_.pipes[at(find(network_.pipes.id, what))].at_from.si();
  }
  return kg_per_s / kg_per_scf_per_h_;
}

std::string Answer::mode(std::string_view regulator) const {
  switch (state_.regulators[at(find(network_.regulators.id, regulator))].mode) {
    case network::RegulatorMode::controls:
      return "controls";
    case network::RegulatorMode::wide_open:
      return "wide open";
    case network::RegulatorMode::closed:
      return "closed";
    case network::RegulatorMode::reverse:
      return "reverse";
    case network::RegulatorMode::shut:
      return "shut";
    case network::RegulatorMode::out:
      return "out";
  }
  return "";
}

namespace {
std::string named(const Network& network, const std::vector<Index>& customers) {
  std::string text;
  for (Index c : customers) text += (text.empty() ? "" : " ") + network.customers.id[at(c)];
  return text;
}
}  // namespace

std::string Answer::out() const { return named(network_, state_.customers_out); }
std::string Answer::short_of_gas() const { return named(network_, state_.customers_short); }
bool Answer::says(std::string_view rule) const {
  return std::ranges::find(findings_, rule, &Finding::rule) != findings_.end();
}

}  // namespace bellhole::scenario
