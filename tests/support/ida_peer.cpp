#include "tests/support/ida_peer.hpp"

#include <ida/ida.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <numbers>
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
  sunindextype aa = -1, bb = -1, ab = -1, ba = -1;
  sunindextype qq = -1, qa = -1, qb = -1, aq = -1, bq = -1;  ///< flows unknown
};
struct Customers {  ///< of one node with one least pressure
  Index node;
  double full, none_at, full_from;
};

/// The problem as IDA's functions see it; unknowns are absolute pressures in Pa.
struct Problem {
  gas::Flowing gas;
  double rt = 0.0;
  bool explicit_law = false, flows_unknown = false;
  double level = 1.0;  ///< Pa2: size of a loss, for the laws of the mains as equations
  std::vector<Main> mains;
  std::vector<Customers> customers;
  std::vector<double> volume;
  std::vector<double> potential, flow;  ///< of nodes; of mains, where a search begins
  std::vector<sunindextype> first, row, diagonal;
};

struct Point {
  double flow, slope;
};

Point along(Problem& p, std::size_t k) {
  const Main& main = p.mains[k];
  const double fall = p.potential[at(main.a)] - p.potential[at(main.b)];
  if (p.explicit_law) {
    const auto driven = main.law.driven(fall, main.length);
    return {driven.flow, driven.slope};
  }
  p.flow[k] = flow_for(main.law, main.length, fall, p.flow[k]);
  return {p.flow[k], 1.0 / main.law.loss(p.flow[k], main.length).slope};
}

Point drawn(const Customers& c, double potential) {
  if (potential >= c.full_from) return {c.full, 0.0};
  if (potential <= c.none_at) return {0.0, 0.0};
  const double width = c.full_from - c.none_at, y = (potential - c.none_at) / width;
  return {y * (2 - y) * c.full, 2 * c.full * (1 - y) / width};
}

void look(Problem& p, const double* y) {
  for (std::size_t i = 0; i < p.potential.size(); ++i) p.potential[i] = p.gas.potential(y[i]);
}

Point flow_of(Problem& p, const double* y, std::size_t k) {
  if (p.flows_unknown) return {y[p.volume.size() + k], 0.0};
  return along(p, k);
}

/// kg/s that leave each node.
void outflow(Problem& p, const double* y, double* out) {
  look(p, y);
  std::fill(out, out + p.volume.size(), 0.0);
  for (std::size_t k = 0; k < p.mains.size(); ++k) {
    const double flow = flow_of(p, y, k).flow;
    out[p.mains[k].a] += flow;
    out[p.mains[k].b] -= flow;
  }
  for (const Customers& c : p.customers) out[c.node] += drawn(c, p.potential[at(c.node)]).flow;
}

double capacity(const Problem& p, std::size_t i, double y) {
  return p.volume[i] * (1.0 + 2.0 * p.gas.k_per_pa * y) / p.rt;
}

int residual(realtype, N_Vector yy, N_Vector yp, N_Vector rr, void* data) {
  auto& p = *static_cast<Problem*>(data);
  const double* y = N_VGetArrayPointer(yy);
  const double* d = N_VGetArrayPointer(yp);
  double* r = N_VGetArrayPointer(rr);
  outflow(p, y, r);
  for (std::size_t i = 0; i < p.volume.size(); ++i) r[i] += capacity(p, i, y[i]) * d[i];
  for (std::size_t k = 0; p.flows_unknown && k < p.mains.size(); ++k) {
    const Main& main = p.mains[k];
    const double loss = main.law.loss(y[p.volume.size() + k], main.length).value;
    r[p.volume.size() + k] = (loss - p.potential[at(main.a)] + p.potential[at(main.b)]) / p.level;
  }
  return 0;
}

int jacobian(realtype, realtype cj, N_Vector yy, N_Vector yp, N_Vector, SUNMatrix j, void* data,
             N_Vector, N_Vector, N_Vector) {
  auto& p = *static_cast<Problem*>(data);
  const double* y = N_VGetArrayPointer(yy);
  const double* d = N_VGetArrayPointer(yp);
  double* value = SUNSparseMatrix_Data(j);
  std::fill(value, value + SUNSparseMatrix_NNZ(j), 0.0);
  std::ranges::copy(p.first, SUNSparseMatrix_IndexPointers(j));
  std::ranges::copy(p.row, SUNSparseMatrix_IndexValues(j));
  look(p, y);
  const double k = p.gas.k_per_pa;
  const auto per_pa = [&](Index i) { return y[i] * (1.0 + k * y[i]); };
  for (std::size_t m = 0; m < p.mains.size(); ++m) {
    const Main& main = p.mains[m];
    if (p.flows_unknown) {
      const double flow = y[p.volume.size() + m];
      value[main.qq] += main.law.loss(flow, main.length).slope / p.level;
      value[main.qa] -= per_pa(main.a) / p.level;
      value[main.qb] += per_pa(main.b) / p.level;
      value[main.aq] += 1.0;
      value[main.bq] -= 1.0;
      continue;
    }
    if (main.a == main.b) continue;
    const double gain = along(p, m).slope;
    value[main.aa] += gain * per_pa(main.a);
    value[main.bb] += gain * per_pa(main.b);
    value[main.ba] -= gain * per_pa(main.a);  // row b, column a
    value[main.ab] -= gain * per_pa(main.b);
  }
  for (const Customers& c : p.customers) {
    value[p.diagonal[at(c.node)]] += drawn(c, p.potential[at(c.node)]).slope * per_pa(c.node);
  }
  for (std::size_t i = 0; i < p.volume.size(); ++i) {
    value[p.diagonal[i]] += cj * capacity(p, i, y[i]) + p.volume[i] * 2.0 * k / p.rt * d[i];
  }
  return 0;
}

Problem pose(const Network& n, const network::Conditions& conditions,
             const network::Scenario& scenario, const PeerCourse& course) {
  Problem p;
  p.explicit_law = course.explicit_law;
  p.flows_unknown = course.flows_unknown;
  p.gas = gas::flowing(conditions.gas, conditions.ground);
  p.rt = p.gas.specific_constant * p.gas.temperature_k;
  const double barometer = n.barometer.si();
  p.volume.assign(n.nodes.size(), 1e-6);
  p.potential.assign(n.nodes.size(), 0.0);
  for (std::size_t k = 0; k < n.pipes.size(); ++k) {
    const double length = n.pipes.length[k].si(), bore = n.pipes.bore[k].si();
    p.mains.push_back({n.pipes.from[k], n.pipes.to[k], length,
                       gas::PipeLaw(conditions.law, p.gas, n.pipes.bore[k], n.pipes.roughness[k],
                                    AbsolutePressure::from_si(barometer), n.barometer)});
    for (const Index end : {n.pipes.from[k], n.pipes.to[k]}) {
      p.volume[at(end)] += 0.5 * length * std::numbers::pi / 4.0 * bore * bore;
    }
  }
  p.flow.assign(p.mains.size(), 0.0);
  const auto flows = network::loads(n, scenario);
  const double kg = gas::base_density(conditions.gas, {n.base_pressure, n.base_temperature}).si();
  for (std::size_t c = 0; c < n.customers.size(); ++c) {
    const Index pipe = n.customers.pipe[c];
    const bool near = n.customers.station[c].si() < 0.5 * n.pipes.length[at(pipe)].si();
    double least = network::least_of_customer(n, static_cast<Index>(c)).si();
    if (!(least > 0)) least = conditions.falls_off_without_limit.si();
    const Customers one{near ? n.pipes.from[at(pipe)] : n.pipes.to[at(pipe)], flows[c].si() * kg,
                        p.gas.potential(barometer), p.gas.potential(least + barometer)};
    p.customers.push_back(one);
  }
  std::ranges::stable_sort(p.customers, {}, [](const Customers& c) { return c.node; });
  std::vector<Customers> together;
  for (const Customers& c : p.customers) {
    const bool same = !together.empty() && together.back().node == c.node &&
                      together.back().full_from == c.full_from;
    if (same) {
      together.back().full += c.full;
    } else {
      together.push_back(c);
    }
  }
  p.customers = std::move(together);
  return p;
}

sunindextype slot(const Problem& p, Index row, Index column) {
  const auto begin = p.row.begin() + p.first[at(column)],
             end = p.row.begin() + p.first[at(column) + 1];
  return std::lower_bound(begin, end, row) - p.row.begin();
}

void lay_pattern(Problem& p) {
  const std::size_t nodes = p.volume.size();
  std::vector<std::set<Index>> rows(nodes + (p.flows_unknown ? p.mains.size() : 0));
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i].insert(static_cast<Index>(i));
  for (std::size_t k = 0; k < p.mains.size(); ++k) {
    const Main& main = p.mains[k];
    if (p.flows_unknown) {
      const auto q = static_cast<Index>(nodes + k);
      rows[at(main.a)].insert(q);
      rows[at(main.b)].insert(q);
      rows[at(q)].insert({main.a, main.b});
      continue;
    }
    rows[at(main.a)].insert(main.b);
    rows[at(main.b)].insert(main.a);
  }
  for (const auto& column : rows) {
    p.first.push_back(static_cast<sunindextype>(p.row.size()));
    for (Index r : column) p.row.push_back(r);
  }
  p.first.push_back(static_cast<sunindextype>(p.row.size()));
  for (std::size_t i = 0; i < nodes; ++i) {
    p.diagonal.push_back(slot(p, static_cast<Index>(i), static_cast<Index>(i)));
  }
  for (std::size_t k = 0; k < p.mains.size(); ++k) {
    Main& main = p.mains[k];
    if (p.flows_unknown) {
      const auto q = static_cast<Index>(nodes + k);
      main.qq = slot(p, q, q);
      main.qa = slot(p, q, main.a);
      main.qb = slot(p, q, main.b);
      main.aq = slot(p, main.a, q);
      main.bq = slot(p, main.b, q);
      continue;
    }
    main.aa = slot(p, main.a, main.a);
    main.bb = slot(p, main.b, main.b);
    main.ab = slot(p, main.a, main.b);
    main.ba = slot(p, main.b, main.a);
  }
}

}  // namespace

std::optional<PeerThroughTime> drain_with_ida(const Network& n,
                                              const network::Conditions& conditions,
                                              const network::Scenario& scenario,
                                              const PeerCourse& course) {
  Problem p = pose(n, conditions, scenario, course);
  lay_pattern(p);
  const std::clock_t begun = std::clock();
  const double barometer = n.barometer.si();
  const std::size_t nodes = p.volume.size();
  const std::size_t unknowns = nodes + (p.flows_unknown ? p.mains.size() : 0);
  const auto size = static_cast<sunindextype>(unknowns);
  SUNContext context = nullptr;
  SUNContext_Create(nullptr, &context);
  N_Vector y = N_VNew_Serial(size, context), d = N_VNew_Serial(size, context),
           allowed = N_VNew_Serial(size, context), kind = N_VNew_Serial(size, context);
  N_VConst(1.0, kind);
  double* begin = N_VGetArrayPointer(y);
  for (std::size_t i = 0; i < p.volume.size(); ++i) {
    begin[i] = course.begins_pa[i] + barometer;
    N_VGetArrayPointer(allowed)[i] = course.tolerance * std::max(course.begins_pa[i], 1000.0);
  }
  double* rate = N_VGetArrayPointer(d);
  N_VConst(0.0, d);
  if (p.flows_unknown) {
    look(p, begin);
    // Flows follow from the pressures; held closer, IDA takes longer or gives up.
    constexpr double loose = 1000.0;
    double most = 1e-9;
    p.level = *std::ranges::max_element(p.potential);
    for (std::size_t k = 0; k < p.mains.size(); ++k) {
      begin[nodes + k] = along(p, k).flow;
      most = std::max(most, std::abs(begin[nodes + k]));
    }
    for (std::size_t k = nodes; k < unknowns; ++k) {
      N_VGetArrayPointer(allowed)[k] = loose * course.tolerance * most;
      N_VGetArrayPointer(kind)[k] = 0.0;
    }
  }
  outflow(p, begin, rate);
  for (std::size_t i = 0; i < p.volume.size(); ++i) rate[i] /= -capacity(p, i, begin[i]);
  SUNMatrix j =
      SUNSparseMatrix(size, size, static_cast<sunindextype>(p.row.size()), CSC_MAT, context);
  std::ranges::copy(p.first, SUNSparseMatrix_IndexPointers(j));
  std::ranges::copy(p.row, SUNSparseMatrix_IndexValues(j));
  SUNLinearSolver solver = SUNLinSol_KLU(y, j, context);
  void* ida = IDACreate(context);
  IDAInit(ida, residual, 0.0, y, d);
  IDASVtolerances(ida, 0.0, allowed);
  IDASetUserData(ida, &p);
  IDASetLinearSolver(ida, solver, j);
  IDASetJacFn(ida, jacobian);
  IDASetId(ida, kind);
  IDASetSuppressAlg(ida, SUNTRUE);
  // Leave to give up late: it has the hardest moment at the beginning.
  IDASetInitStep(ida, 1e-6);
  IDASetMaxNonlinIters(ida, 10);
  IDASetMaxConvFails(ida, 100);
  IDASetMaxErrTestFails(ida, 100);
  IDASetMaxNumSteps(ida, 200'000);
  IDASetErrFile(ida, nullptr);
  std::optional<PeerThroughTime> made = PeerThroughTime{};
  for (const double time : course.times) {
    double reached = 0.0;
    const int flag = IDASolve(ida, time, &reached, y, d, IDA_NORMAL);
    if (flag < 0) {
      made.reset();
      break;
    }
    auto& here = made->gauge_pa.emplace_back();
    const double* now = N_VGetArrayPointer(y);
    for (std::size_t i = 0; i < p.volume.size(); ++i) here.push_back(now[i] - barometer);
  }
  if (made) {
    made->seconds = static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC;
    IDAGetNumSteps(ida, &made->steps);
    IDAGetNumResEvals(ida, &made->residuals);
    IDAGetNumJacEvals(ida, &made->factors);
  }
  IDAFree(&ida);
  SUNLinSolFree(solver);
  SUNMatDestroy(j);
  N_VDestroy(y);
  N_VDestroy(d);
  N_VDestroy(allowed);
  N_VDestroy(kind);
  SUNContext_Free(&context);
  return made;
}

}  // namespace bellhole::support
