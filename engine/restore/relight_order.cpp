// Which meters are on which side of the list, and who is visited when.
#include <algorithm>
#include <iterator>
#include <limits>
#include <map>
#include <set>
#include <tuple>

#include "restore/relight_work.hpp"

namespace bellhole::restore {
namespace {

using Names = std::set<std::string>;

std::vector<std::string> less(const Names& a, const Names& b) {
  std::vector<std::string> only;
  std::ranges::set_difference(a, b, std::back_inserter(only));
  return only;
}

double along_of(const Meter& meter) {
  return meter.along ? meter.along->si() : std::numeric_limits<double>::infinity();
}

/// The nearest meter of each street.
std::map<std::string, double> reach_of_streets(const std::vector<Meter>& meters) {
  std::map<std::string, double> reach;
  for (const Meter& meter : meters) {
    const auto [at, fresh] = reach.try_emplace(meter.street, along_of(meter));
    if (!fresh) at->second = std::min(at->second, along_of(meter));
  }
  return reach;
}

std::vector<std::size_t> in_order(const RelightQuestion& question) {
  Names lit;
  for (const ShutRow& row : question.shut.value_or(std::vector<ShutRow>()))
    if (row.how == Shut::relit) lit.insert(row.id);
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < question.meters.size(); ++i)
    if (!lit.contains(question.meters[i].id)) order.push_back(i);
  const auto reach = reach_of_streets(question.meters);
  std::ranges::sort(order, {}, [&](std::size_t i) {
    const Meter& meter = question.meters[i];
    return std::make_tuple(!meter.must_not_lose, reach.at(meter.street), meter.street,
                           along_of(meter), meter.id);
  });
  return order;
}

/// Those who must not lose gas are dealt out one by one, the others in stretches, so that nobody
/// has more than one visit more than another.
void deal(const RelightQuestion& question, std::vector<Visit>& visits) {
  const std::int64_t n = question.technicians.value_or(1);
  const auto count = static_cast<std::int64_t>(visits.size());
  const auto share = [&](std::int64_t round) { return count / n + (round < count % n ? 1 : 0); };
  std::map<std::int64_t, std::int64_t> has;  // only rounds that have a visit: n may be any number
  std::int64_t first = 0, round = 0;
  for (Visit& visit : visits) {
    if (question.meters[visit.meter].must_not_lose) {
      visit.round = first++ % n;
    } else {
      while (has[round] >= share(round)) ++round;
      visit.round = round;
    }
    visit.place = ++has[visit.round];
    ++visit.round;
  }
}

}  // namespace

void compare_sets(const RelightQuestion& question, Relight& out) {
  if (!question.shut) return;
  Names affected, shut;
  for (const Meter& meter : question.meters) affected.insert(meter.id);
  for (const ShutRow& row : *question.shut) {
    shut.insert(row.id);
    out.relit += row.how == Shut::relit ? 1u : 0u;
    out.locked += row.how == Shut::locked ? 1u : 0u;
    out.curb += row.how == Shut::curb ? 1u : 0u;
  }
  out.not_shut = less(affected, shut);
  out.not_affected = less(shut, affected);
  out.same = out.not_shut.empty() && out.not_affected.empty();
}

void order_visits(const RelightQuestion& question, Relight& out) {
  for (const std::size_t i : in_order(question)) out.visits.push_back({i, 0, 0, {}});
  deal(question, out.visits);
  const Names walked(question.walked.begin(), question.walked.end());
  const auto reach = reach_of_streets(question.meters);
  std::vector<std::pair<double, std::string>> streets;
  for (const auto& [name, along] : reach) streets.emplace_back(along, name);
  std::ranges::sort(streets);
  for (const auto& [along, name] : streets) {
    const auto meters = std::ranges::count(question.meters, name, &Meter::street);
    out.streets.push_back({name, static_cast<std::size_t>(meters), walked.contains(name)});
  }
}

}  // namespace bellhole::restore
