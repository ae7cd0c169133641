#include "maps/split.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace bellhole::maps {
namespace {

/// Size of the cells of the indices: about the length of a block.
constexpr double cell_m = 50.0;

std::string name_of(const Main& main) { return "pipe " + main.id; }

}  // namespace

Splitter::Splitter(std::vector<Main>& mains, Joined& joined, const Mapping& mapping, Report& report)
    : mains_(mains),
      joined_(joined),
      mapping_(mapping),
      report_(report),
      index_(cell_m),
      joints_(cell_m),
      cuts_(mains.size()),
      owners_(joined.joints.size()),
      cuts_at_(joined.joints.size(), 0),
      open_(mains.size(), 0) {
  for (std::size_t m = 0; m < mains_.size(); ++m) {
    index_.add(m, mains_[m].line);
    for (const std::size_t joint : joined_.ends[m]) owners_[joint].push_back(m);
  }
  for (std::size_t j = 0; j < joined_.joints.size(); ++j) joints_.add(j, joined_.joints[j].at);
}

std::vector<Splitter::Near> Splitter::mains_near(XY at, network::Index tier, double reach) const {
  std::set<std::size_t> candidates;
  for (const auto* segment : index_.near(at, at, reach)) {
    if (mains_[segment->line].tier == tier) candidates.insert(segment->line);
  }
  std::vector<Near> out;
  for (const auto m : candidates) {
    const Foot foot = foot_on(mains_[m].line, at);
    if (foot.away <= reach) out.push_back({m, foot});
  }
  std::ranges::stable_sort(out, {}, [](const Near& near) { return near.foot.away; });
  return out;
}

bool Splitter::ends_on(std::size_t main, std::size_t joint) const {
  return joined_.ends[main][0] == joint || joined_.ends[main][1] == joint;
}
bool Splitter::cut_at(std::size_t main, std::size_t joint) const {
  return std::ranges::any_of(cuts_[main], [&](const Cut& cut) { return cut.joint == joint; });
}
/// Whether the foot lies on the line's middle and not on one of its ends.
bool Splitter::inside(std::size_t main, const Foot& foot) const {
  const Line& line = mains_[main].line;
  return distance(foot.at, line.front()) > exact_m && distance(foot.at, line.back()) > exact_m;
}

void Splitter::tees() {
  const std::size_t count = joined_.joints.size();
  for (std::size_t j = 0; j < count; ++j) tee(j);
  for (std::size_t j = 0; j < count; ++j) report_gaps(j);
}

void Splitter::add_cut(std::size_t main, double station, std::size_t joint) {
  cuts_[main].push_back({station, joint});
  ++cuts_at_[joint];
}

/// All ends on joint `j` go over to another one.
void Splitter::hand_over(std::size_t j, std::size_t to) {
  for (const auto m : owners_[j]) {
    for (const std::size_t end : {0, 1}) {
      if (joined_.ends[m][end] != j) continue;
      joined_.ends[m][end] = to;
      (end == 0 ? mains_[m].line.front() : mains_[m].line.back()) = joined_.joints[to].at;
      owners_[to].push_back(m);
      ++joined_.joints[to].ends;
    }
  }
  owners_[j].clear();
  joined_.joints[j].ends = 0;
  joined_.joints[j].merged = true;
}

/// Whether a main would have both its ends at one place and no length if joint `j` went to `at`.
bool Splitter::vanishes(std::size_t j, XY at) const {
  return std::ranges::any_of(owners_[j], [&](std::size_t m) {
    const std::size_t other = joined_.ends[m][0] == j ? joined_.ends[m][1] : joined_.ends[m][0];
    return other != j && distance(joined_.joints[other].at, at) <= exact_m &&
           length(mains_[m].line) <= 2.0 * mapping_.snap.si();
  });
}

void Splitter::tee(std::size_t j) {
  Joint& joint = joined_.joints[j];
  if (joint.ends == 0) return;
  const bool may_move = !joint.exact && joint.id.empty();
  for (const Near& near : mains_near(joint.at, joint.tier, mapping_.snap.si())) {
    if (ends_on(near.main, j) || cut_at(near.main, j) || !inside(near.main, near.foot)) continue;
    const bool exact = near.foot.away <= exact_m;
    if (!exact && !may_move) continue;
    if (vanishes(j, near.foot.at)) continue;
    const auto there = joint_on(near.main, near.foot.at);
    if (!exact) move_onto(j, near);
    if (there) return hand_over(j, *there);
    add_cut(near.main, near.foot.station, j);
    if (!exact) return tee(j);  // from its new place, other mains may pass through it
  }
}

/// Moves the ends on a joint onto the main that they stop short of, or run past.
void Splitter::move_onto(std::size_t j, const Near& near) {
  Joint& joint = joined_.joints[j];
  for (const auto m : owners_[j]) {
    Main& owner = mains_[m];
    (joined_.ends[m][0] == j ? owner.line.front() : owner.line.back()) = near.foot.at;
    report_.add(
        {"import.snapped", Grade::warn, owner.layer, owner.label, "geometry",
         fmt::format("gap {:.2f} m", near.foot.away),
         fmt::format("an end of it was moved onto the middle of {}", name_of(mains_[near.main])),
         name_of(owner), false});
  }
  joint.at = near.foot.at;
  joint.exact = true;
}

void Splitter::report_gaps(std::size_t j) {
  const Joint& joint = joined_.joints[j];
  if (joint.ends == 0) return;
  const bool loose = joint.ends == 1 && cuts_at_[j] == 0;
  const double reach = loose ? mapping_.report_gap.si() : mapping_.snap.si();
  for (const Near& near : mains_near(joint.at, joint.tier, reach)) {
    if (ends_on(near.main, j) || cut_at(near.main, j) || tied(j, near, reach)) continue;
    const Main& owner = mains_[owners_[j].front()];
    open_[owners_[j].front()] = 1;
    report_.add({"import.gap", Grade::undecided, owner.layer, owner.label, "geometry",
                 fmt::format("gap {:.2f} m", near.foot.away),
                 fmt::format("its end lies near {} and was not joined", name_of(mains_[near.main])),
                 name_of(owner), false});
    return;
  }
}

/// Whether a main on joint `j` meets the near main close by, so that the nearness is no gap.
bool Splitter::tied(std::size_t j, const Near& near, double reach) const {
  return std::ranges::any_of(owners_[j], [&](std::size_t m) {
    for (const std::size_t other : joined_.ends[near.main]) {
      if (distance(joined_.joints[other].at, near.foot.at) <= reach &&
          (ends_on(m, other) || cut_at(m, other)))
        return true;
    }
    return std::ranges::any_of(cuts_[near.main], [&](const Cut& cut) {
      return std::abs(cut.station - near.foot.station) <= reach &&
             (ends_on(m, cut.joint) || cut_at(m, cut.joint));
    });
  });
}

void Splitter::crossings() {
  std::size_t between_tiers = 0;
  for (std::size_t m = 0; m < mains_.size(); ++m) {
    const Line line = mains_[m].line;
    for (std::size_t i = 1; i < line.size(); ++i) {
      for (const auto* other : index_.near(line[i - 1], line[i], 0.0)) {
        if (other->line <= m) continue;
        const Line& crossed = mains_[other->line].line;
        const auto at =
            crossing(line[i - 1], line[i], crossed[other->first], crossed[other->first + 1]);
        if (!at) continue;
        if (mains_[other->line].tier != mains_[m].tier) {
          ++between_tiers;
        } else {
          cross(m, other->line, *at);
        }
      }
    }
  }
  if (between_tiers > 0) {
    report_.add({"import.tiers_cross", Grade::info, "", "", "geometry",
                 fmt::format("{} places", between_tiers),
                 "mains of different tiers cross; they were not joined", "", false});
  }
}

std::size_t Splitter::new_joint(XY at, network::Index tier) {
  joined_.joints.push_back(
      {.at = at, .tier = tier, .ends = 0, .exact = true, .elevation = Length::from_si(NAN)});
  owners_.emplace_back();
  cuts_at_.push_back(0);
  return joined_.joints.size() - 1;
}

/// The joint that a main already has at a place.
std::optional<std::size_t> Splitter::joint_on(std::size_t main, XY at) const {
  for (const std::size_t joint : joined_.ends[main]) {
    if (distance(joined_.joints[joint].at, at) <= exact_m) return joint;
  }
  for (const Cut& cut : cuts_[main]) {
    if (distance(joined_.joints[cut.joint].at, at) <= exact_m) return cut.joint;
  }
  return std::nullopt;
}

void Splitter::cross(std::size_t a, std::size_t b, XY at) {
  const double near = std::max(mapping_.snap.si(), exact_m);
  const auto joined_here = [&](std::size_t joint) {
    return distance(joined_.joints[joint].at, at) <= near &&
           (ends_on(a, joint) || cut_at(a, joint)) && (ends_on(b, joint) || cut_at(b, joint));
  };
  for (const auto j : joints_.near(at, near + 2.0 * mapping_.snap.si())) {
    if (joined_here(j)) return;
  }
  for (const Cut& cut : cuts_[a]) {
    if (joined_here(cut.joint)) return;
  }
  const Main& main = mains_[a];
  if (!mapping_.join_crossings) {
    report_.add({"import.crossing", Grade::undecided, main.layer, main.label, "geometry",
                 fmt::format("crosses {} at {:.1f}, {:.1f}", mains_[b].label, at.x, at.y),
                 "no joint is mapped there and none was made", name_of(main), false});
    return;
  }
  auto there = joint_on(a, at);
  if (!there) there = joint_on(b, at);
  const std::size_t joint = there ? *there : new_joint(at, main.tier);
  for (const std::size_t m : {a, b}) {
    if (!ends_on(m, joint) && !cut_at(m, joint))
      add_cut(m, foot_on(mains_[m].line, at).station, joint);
  }
  report_.add({"import.crossing_joined", Grade::warn, main.layer, main.label, "geometry",
               fmt::format("crosses {} at {:.1f}, {:.1f}", mains_[b].label, at.x, at.y),
               "joined there, because the mapping says that crossings are joints", name_of(main),
               true});
}

std::optional<std::size_t> Splitter::joint_near(XY place, network::Index tier, double reach) {
  std::optional<std::size_t> best;
  double best_away = reach;
  for (std::size_t j = 0; j < joined_.joints.size(); ++j) {
    const Joint& joint = joined_.joints[j];
    const double away = distance(joint.at, place);
    if (!joint.merged && joint.tier == tier && away <= best_away && (!best || away < best_away)) {
      best = j;
      best_away = away;
    }
  }
  const auto mains = mains_near(place, tier, reach);
  if (mains.empty()) return best;
  const Near& near = mains.front();
  const bool joint_will_do = best && best_away <= near.foot.away + mapping_.snap.si();
  if (joint_will_do || !inside(near.main, near.foot)) return best;
  if (const auto there = joint_on(near.main, near.foot.at)) return there;
  const std::size_t joint = new_joint(near.foot.at, tier);
  add_cut(near.main, near.foot.station, joint);
  return joint;
}

std::size_t Splitter::not_snapping() const {
  std::size_t count = 0;
  for (std::size_t m = 0; m < mains_.size(); ++m) {
    const bool alone = cuts_[m].empty() && std::ranges::all_of(joined_.ends[m], [&](std::size_t j) {
                         return owners_[j].size() == 1 && cuts_at_[j] == 0;
                       });
    if (open_[m] != 0 || (alone && mains_.size() > 1)) ++count;
  }
  return count;
}

std::vector<Piece> Splitter::pieces() {
  std::vector<Piece> out;
  for (std::size_t m = 0; m < mains_.size(); ++m) {
    auto& cuts = cuts_[m];
    std::ranges::sort(cuts);
    const double whole = length(mains_[m].line);
    std::size_t from = joined_.ends[m][0];
    double begin = 0.0;
    const std::size_t parts = cuts.size() + 1;
    for (std::size_t part = 0; part < parts; ++part) {
      const bool last = part == cuts.size();
      const double end = last ? whole : cuts[part].station;
      const std::size_t to = last ? joined_.ends[m][1] : cuts[part].joint;
      Piece piece{.main = m,
                  .part = part,
                  .parts = parts,
                  .from = from,
                  .to = to,
                  .line = {},
                  .begin = begin};
      piece.line = parts == 1 ? mains_[m].line : cut(mains_[m].line, begin, end);
      piece.line.front() = joined_.joints[from].at;
      piece.line.back() = joined_.joints[to].at;
      out.push_back(std::move(piece));
      from = to;
      begin = end;
    }
  }
  return out;
}

}  // namespace bellhole::maps
