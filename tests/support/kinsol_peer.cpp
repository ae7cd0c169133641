#include "tests/support/kinsol_peer.hpp"

#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <set>

#include "tests/support/peer_flow.hpp"

namespace bellhole::support {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

struct Main {
  Index a, b;
  double length;
  gas::PipeLaw law;
  sunindextype aa = -1, bb = -1, ab = -1, ba = -1;  ///< slots of its entries in the Jacobian
};
struct Customer {
  Index node;
  double full, none_at, full_from;
};

/// The problem as KINSOL's functions see it.
struct Problem {
  gas::Flowing gas;
  std::vector<Main> mains;
  std::vector<Customer> customers;
  std::vector<Index> unknown;            ///< of each node; -1 at a source
  std::vector<double> fixed;             ///< potential of each node where unknown is -1
  std::vector<sunindextype> first, row;  ///< of the Jacobian: KINSOL empties it before each filling
  std::vector<double> flow;              ///< of each main, where the inverse law begins next time
  bool linear = false, falls_off = false;
  double scale = 1.0;  ///< of the potentials: KINSOL works with numbers about 1

  [[nodiscard]] double potential(const double* u, Index node) const {
    const Index i = unknown[at(node)];
    return i < 0 ? fixed[at(node)] : u[i] * scale;
  }
};

struct Point {
  double flow, slope;  ///< along a main, and its derivative by the fall of potential
};

Point along(Problem& p, std::size_t k, double fall) {
  const Main& main = p.mains[k];
  if (p.linear) {
    const double usual = 12000.0 / main.law.reynolds(1.0);
    const double gain = usual / main.law.loss(usual, main.length).value;
    return {gain * fall, gain};
  }
  p.flow[k] = flow_for(main.law, main.length, fall, p.flow[k]);
  return {p.flow[k], 1.0 / main.law.loss(p.flow[k], main.length).slope};
}

Point drawn(const Problem& p, const Customer& customer, double potential) {
  if (p.linear || !p.falls_off || potential >= customer.full_from) return {customer.full, 0.0};
  const double width = customer.full_from - customer.none_at,
               y = (potential - customer.none_at) / width;
  if (y <= 0) return {2 * y * customer.full, 2 * customer.full / width};
  return {y * (2 - y) * customer.full, 2 * customer.full * (1 - y) / width};
}

int residual(N_Vector u, N_Vector f, void* data) {
  auto& p = *static_cast<Problem*>(data);
  const double* x = N_VGetArrayPointer(u);
  double* mass = N_VGetArrayPointer(f);
  std::fill(mass, mass + N_VGetLength(u), 0.0);
  for (std::size_t k = 0; k < p.mains.size(); ++k) {
    const Main& main = p.mains[k];
    const double flow = along(p, k, p.potential(x, main.a) - p.potential(x, main.b)).flow;
    if (p.unknown[at(main.a)] >= 0) mass[p.unknown[at(main.a)]] += flow;
    if (p.unknown[at(main.b)] >= 0) mass[p.unknown[at(main.b)]] -= flow;
  }
  for (const Customer& customer : p.customers) {
    const Index i = p.unknown[at(customer.node)];
    if (i >= 0) mass[i] += drawn(p, customer, p.potential(x, customer.node)).flow;
  }
  return 0;
}

/// Slot of an entry in the compressed columns.
sunindextype slot(SUNMatrix j, Index row, Index column) {
  const sunindextype* first = SUNSparseMatrix_IndexPointers(j);
  const sunindextype* rows = SUNSparseMatrix_IndexValues(j);
  return std::lower_bound(rows + first[column], rows + first[column + 1], row) - rows;
}

int jacobian(N_Vector u, N_Vector, SUNMatrix j, void* data, N_Vector, N_Vector) {
  auto& p = *static_cast<Problem*>(data);
  const double* x = N_VGetArrayPointer(u);
  double* value = SUNSparseMatrix_Data(j);
  std::fill(value, value + SUNSparseMatrix_NNZ(j), 0.0);
  std::ranges::copy(p.first, SUNSparseMatrix_IndexPointers(j));
  std::ranges::copy(p.row, SUNSparseMatrix_IndexValues(j));
  for (std::size_t k = 0; k < p.mains.size(); ++k) {
    const Main& main = p.mains[k];
    const double gain =
        along(p, k, p.potential(x, main.a) - p.potential(x, main.b)).slope * p.scale;
    const Index a = p.unknown[at(main.a)], b = p.unknown[at(main.b)];
    if (a >= 0) value[main.aa] += gain;
    if (b >= 0) value[main.bb] += gain;
    if (a < 0 || b < 0 || a == b) continue;
    value[main.ab] -= gain;
    value[main.ba] -= gain;
  }
  for (const Customer& customer : p.customers) {
    const Index i = p.unknown[at(customer.node)];
    if (i >= 0)
      value[slot(j, i, i)] += drawn(p, customer, p.potential(x, customer.node)).slope * p.scale;
  }
  return 0;
}

Problem pose(const Network& n, const network::Conditions& conditions,
             const network::Scenario& scenario, bool falls_off) {
  Problem p;
  p.falls_off = falls_off;
  p.gas = gas::flowing(conditions.gas, conditions.ground);
  const double barometer = n.barometer.si();
  const auto potential = [&](double gauge) { return p.gas.potential(gauge + barometer); };
  const double kg = gas::base_density(conditions.gas, {n.base_pressure, n.base_temperature}).si();
  p.unknown.assign(n.nodes.size(), 0);
  p.fixed.assign(n.nodes.size(), 0.0);
  for (std::size_t s = 0; s < n.sources.size(); ++s) {
    p.unknown[at(n.sources.node[s])] = -1;
    p.fixed[at(n.sources.node[s])] = potential(n.sources.pressure[s].si());
    p.scale = std::max(p.scale, p.fixed[at(n.sources.node[s])]);
  }
  Index next = 0;
  for (Index& i : p.unknown) {
    if (i == 0) i = next++;
  }
  for (std::size_t k = 0; k < n.pipes.size(); ++k) {
    p.mains.push_back({n.pipes.from[k], n.pipes.to[k], n.pipes.length[k].si(),
                       gas::PipeLaw(conditions.law, p.gas, n.pipes.bore[k], n.pipes.roughness[k],
                                    AbsolutePressure::from_si(barometer), n.barometer)});
  }
  p.flow.assign(p.mains.size(), 0.0);
  const auto flows = network::loads(n, scenario);
  for (std::size_t c = 0; c < n.customers.size(); ++c) {
    const Index pipe = n.customers.pipe[c];
    const bool first = n.customers.station[c].si() < 0.5 * n.pipes.length[at(pipe)].si();
    double least = network::least_of_customer(n, static_cast<Index>(c)).si();
    if (!(least > 0)) least = conditions.falls_off_without_limit.si();
    p.customers.push_back({first ? n.pipes.from[at(pipe)] : n.pipes.to[at(pipe)],
                           flows[c].si() * kg, potential(0.0), potential(least)});
  }
  return p;
}

/// Columns of the Jacobian, filled in by jacobian().
SUNMatrix pattern(Problem& p, sunindextype n, SUNContext context) {
  std::vector<std::set<Index>> rows(static_cast<std::size_t>(n));
  for (Index i = 0; i < n; ++i) rows[at(i)].insert(i);
  for (const Main& main : p.mains) {
    const Index a = p.unknown[at(main.a)], b = p.unknown[at(main.b)];
    if (a < 0 || b < 0) continue;
    rows[at(a)].insert(b);
    rows[at(b)].insert(a);
  }
  sunindextype count = 0;
  for (const auto& column : rows) count += static_cast<sunindextype>(column.size());
  SUNMatrix j = SUNSparseMatrix(n, n, count, CSC_MAT, context);
  sunindextype* first = SUNSparseMatrix_IndexPointers(j);
  sunindextype* row = SUNSparseMatrix_IndexValues(j);
  sunindextype k = 0;
  for (std::size_t c = 0; c < rows.size(); ++c) {
    first[c] = k;
    for (Index r : rows[c]) row[k++] = r;
  }
  first[rows.size()] = k;
  for (Main& main : p.mains) {
    const Index a = p.unknown[at(main.a)], b = p.unknown[at(main.b)];
    if (a >= 0) main.aa = slot(j, a, a);
    if (b >= 0) main.bb = slot(j, b, b);
    if (a < 0 || b < 0 || a == b) continue;
    main.ab = slot(j, a, b);
    main.ba = slot(j, b, a);
  }
  p.first.assign(first, first + n + 1);
  p.row.assign(row, row + count);
  return j;
}

}  // namespace

std::optional<PeerState> solve_with_kinsol(const Network& n, const network::Conditions& conditions,
                                           const network::Scenario& scenario, bool falls_off) {
  Problem p = pose(n, conditions, scenario, falls_off);
  const auto size = static_cast<sunindextype>(*std::ranges::max_element(p.unknown) + 1);
  if (size == 0) {  // a source at every node
    PeerState state;
    for (double potential : p.fixed)
      state.node_gauge_pa.push_back(p.gas.pressure(potential) - n.barometer.si());
    return state;
  }
  SUNContext context = nullptr;
  SUNContext_Create(nullptr, &context);
  N_Vector u = N_VNew_Serial(size, context), ones = N_VNew_Serial(size, context),
           weights = N_VNew_Serial(size, context);
  double load = 1e-9;
  for (const Customer& customer : p.customers) load += customer.full;
  N_VConst(1.0, u);
  N_VConst(1.0, ones);
  N_VConst(1.0 / load, weights);
  SUNMatrix j = pattern(p, size, context);
  SUNLinearSolver solver = SUNLinSol_KLU(u, j, context);
  void* kinsol = KINCreate(context);
  KINInit(kinsol, residual, u);
  KINSetUserData(kinsol, &p);
  KINSetLinearSolver(kinsol, solver, j);
  KINSetJacFn(kinsol, jacobian);
  KINSetMaxSetupCalls(kinsol, 1);
  KINSetFuncNormTol(kinsol, 1e-10);
  KINSetScaledStepTol(kinsol, 1e-16);
  KINSetNumMaxIters(kinsol, 500);
  KINSetMaxNewtonStep(kinsol, 1e6);
  KINSetPrintLevel(kinsol, 0);
  KINSetErrFile(kinsol, nullptr);
  p.linear = true;  // a linear solution to begin with, not timed
  KINSol(kinsol, u, KIN_NONE, ones, weights);
  p.linear = false;
  const auto begin = std::chrono::steady_clock::now();
  KINSol(kinsol, u, KIN_LINESEARCH, ones, weights);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  PeerState state;
  state.seconds = took.count();
  long iterations = 0;
  KINGetNumNonlinSolvIters(kinsol, &iterations);
  state.iterations = static_cast<int>(iterations);
  const double* x = N_VGetArrayPointer(u);
  for (std::size_t i = 0; i < n.nodes.size(); ++i) {
    state.node_gauge_pa.push_back(p.gas.pressure(p.potential(x, static_cast<Index>(i))) -
                                  n.barometer.si());
  }
  residual(u, weights, &p);
  state.worst_mass = N_VMaxNorm(weights);
  KINFree(&kinsol);
  SUNLinSolFree(solver);
  SUNMatDestroy(j);
  N_VDestroy(u);
  N_VDestroy(ones);
  N_VDestroy(weights);
  SUNContext_Free(&context);
  // Its own verdict is of little use at the end of what the digits give: it says that its steps are
  // too small, or that small steps are an answer. The balance decides.
  if (state.worst_mass > 1e-8 * load) return std::nullopt;
  return state;
}

}  // namespace bellhole::support
