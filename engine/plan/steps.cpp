#include "plan/steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "plan/gauges.hpp"
#include "plan/posts.hpp"
#include "plan/step_check.hpp"
#include "plan/step_watch.hpp"
#include "plan/step_words.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// What a step of a block is about: a shut-off, a post, or the job.
struct Subject {
  std::string suffix;  ///< "A", "P2"; empty: the job
  const Shutoff* shutoff = nullptr;
  std::size_t shutoff_index = 0;
  const Post* post = nullptr;
};

std::string step_id(const std::string& item, const Subject& subject) {
  return subject.suffix.empty() ? item : item + "-" + subject.suffix;
}

std::int64_t beyond_the_part(const ShutoffPlan& plan) {
  return std::ranges::count_if(
      plan.out, [](const CustomerOut& out) { return out.cause != OutCause::isolated; });
}

bool has_bypass_steps(const Order& order) {
  return std::ranges::any_of(order.blocks, [](const OrderBlock& block) {
    return std::ranges::any_of(
        block.items, [](const OrderItem& item) { return item.kind == StepKind::bypass_flowing; });
  });
}

struct BypassChoice {
  bool made = false;
  std::string because;
};

BypassChoice bypass_of(const StepsQuestion& in) {
  const std::int64_t beyond = beyond_the_part(in.plan);
  const std::string need =
      beyond > 0 ? fmt::format("{} customers beyond the part would be out without one.", beyond)
                 : std::string("nobody beyond the part is out without one.");
  if (!has_bypass_steps(in.order)) return {false, "this order has no steps for one."};
  if (in.bypass) return {*in.bypass, (*in.bypass ? "asked for; " : "asked not to; ") + need};
  if (in.order.bypass == Bypass::as_needed) return {beyond > 0, need};
  return {in.order.bypass == Bypass::always,
          (in.order.bypass == Bypass::always ? "the order always makes one; "
                                             : "the order never makes one; ") +
              need};
}

class Writer {
 public:
  Writer(const StepsQuestion& in, const std::vector<StageNumbers>& numbers, StepList& list)
      : in_(in),
        network_(in.question.model.network()),
        numbers_(numbers),
        list_(list),
        gauges_(in.question, in.plan, list, numbers),
        bypass_(bypass_of(in)) {
    list_.bypass = bypass_.made;
    if (const auto every = in.question.profile.ruling("steps.read_every", {}).as<kinds::Duration>())
      read_every_ = every;
  }

  void write() {
    job_ = job_values(in_.question, in_.plan, list_, bypass_.because);
    for (const OrderBlock& block : in_.order.blocks) {
      for (const Subject& subject : subjects(block.each)) {
        for (const OrderItem& item : block.items)
          if (wanted(item, subject)) list_.steps.push_back(step(item, subject, block.each));
      }
    }
    resolve_after();
    append(list_.findings, gauges_.not_set());
    if (!tools_missing_.empty()) append(list_.findings, {no_tool()});
  }

 private:
  std::vector<Subject> subjects(Each each) const {
    std::vector<Subject> subjects;
    switch (each) {
      case Each::job:
        return {Subject{}};
      case Each::post:
        for (const Post& post : list_.posts) subjects.push_back({post.id, nullptr, 0, &post});
        return subjects;
      case Each::shutoff:
      case Each::opening:
        for (const std::size_t i : each == Each::shutoff ? list_.closing : list_.opening) {
          const Shutoff& shutoff = in_.plan.shutoffs[i];
          subjects.push_back({shutoff.letter, &shutoff, i, nullptr});
        }
    }
    return subjects;
  }

  const squeeze::Tool* tool_of(const Shutoff& shutoff) const {
    if (!shutoff.sheet || !shutoff.sheet->tool || in_.question.kit == nullptr) return nullptr;
    return &in_.question.kit->tools[*shutoff.sheet->tool];
  }

  bool holds(Wanted wanted, const Subject& subject) const {
    const Place* place = subject.shutoff == nullptr ? nullptr : &subject.shutoff->place;
    const auto is = [&](ShutKind kind) { return place != nullptr && place->kind == kind; };
    switch (wanted) {
      case Wanted::squeeze:
        return is(ShutKind::squeeze);
      case Wanted::valve:
        return is(ShutKind::valve);
      case Wanted::outlet:
        return is(ShutKind::regulator_outlet) || is(ShutKind::source_outlet);
      case Wanted::placed:
        return is(ShutKind::placed);
      case Wanted::two:
        return is(ShutKind::squeeze) && place->squeezes != Squeezes::one;
      case Wanted::hydraulic: {
        const squeeze::Tool* tool = tool_of(*subject.shutoff);
        return is(ShutKind::squeeze) &&
               (tool == nullptr || tool->drive == squeeze::Drive::hydraulic);
      }
      case Wanted::bypass:
        return list_.bypass;
      case Wanted::no_bypass:
        return !list_.bypass;
      case Wanted::customers_out:
        return !in_.plan.out.empty();
    }
    return false;
  }

  bool wanted(const OrderItem& item, const Subject& subject) const {
    return std::ranges::all_of(item.when, [&](Wanted w) { return holds(w, subject); });
  }

  Values values(const Subject& subject) const {
    Values values = job_;
    const auto add = [&](const Values& more) {
      values.insert(values.end(), more.begin(), more.end());
    };
    if (subject.shutoff != nullptr)
      add(shutoff_values(in_.question, *subject.shutoff, tool_of(*subject.shutoff),
                         left_words(list_, numbers_, stage_)));
    if (subject.post != nullptr) add(post_values(*subject.post));
    return values;
  }

  // One step.

  /// The state that the step leaves: closings and openings move the network, others the part.
  void move_on(const OrderItem& item, const Subject& subject) {
    const auto place_in = [&](const std::vector<std::size_t>& order) {
      return static_cast<std::size_t>(std::ranges::find(order, subject.shutoff_index) -
                                      order.begin());
    };
    switch (item.kind) {
      case StepKind::shut:
        if (subject.shutoff != nullptr) stage_ = place_in(list_.closing) + 1;
        part_ = PartState::shut_in;
        break;
      case StepKind::open:
        if (subject.shutoff != nullptr) stage_ = list_.closing.size() + place_in(list_.opening) + 1;
        cut_ = false;
        part_ = PartState::filled;
        break;
      case StepKind::vent_down:
        part_ = PartState::vented;
        break;
      case StepKind::cut:
        cut_ = true;
        break;
      case StepKind::purge:
        part_ = PartState::purging;
        break;
      case StepKind::soap:
      case StepKind::equalise:
        if (part_ == PartState::purging) part_ = PartState::filled;
        break;
      default:
        break;
    }
  }

  bool read_in(Read read, const GaugePoint& point, const Subject& subject) const {
    switch (read) {
      case Read::all:
        return true;
      case Read::own:
        return point.shutoff && subject.shutoff != nullptr &&
               *point.shutoff == subject.shutoff_index;
      case Read::part:
        return point.kind == PointKind::part_side;
      case Read::system:
        return !point.shutoff;
    }
    return false;
  }

  void add_gauges(const OrderItem& item, const Subject& subject, Step& step) const {
    for (std::size_t i = 0; i < list_.points.size(); ++i) {
      if (std::ranges::none_of(item.gauges,
                               [&](Read read) { return read_in(read, list_.points[i], subject); }))
        continue;
      Gauge gauge = gauges_.gauge(i, stage_, part_);
      gauge.every = item.how_often.by_profile ? read_every_ : item.how_often.every;
      gauge.to = step.report_to;
      step.gauges.push_back(std::move(gauge));
    }
  }

  void add_way_back(const OrderItem& item, Step& step) const {
    const bool moves = item.kind == StepKind::shut || item.kind == StepKind::open;
    step.point_of_no_return = item.no_return;
    if (stage_ < numbers_.size()) {
      const StageNumbers& numbers = numbers_[stage_];
      step.time_left = numbers.time_left;
      if (!cut_) step.undo = numbers.undo;
      if (moves) {
        step.findings = numbers.findings;
        step.point_of_no_return |= numbers.point_of_no_return;
      }
      const bool closing = stage_ > 0 && stage_ <= list_.closing.size();
      if (closing && (item.kind == StepKind::shut || item.kind == StepKind::hold_watch))
        step.gas_left = numbers.gas_left;
    }
    if (stage_ == 0) step.undo = Duration();  // nothing is shut: there is nothing to undo
    if (!step.point_of_no_return) return;
    step.names_needed = std::max(step.names_needed, 2);
    // Nothing stands before a closing in an emergency; who accepts it signs afterwards.
    if (in_.order.kind == Kind::planned || item.kind != StepKind::shut) step.hold_point = true;
  }

  void add_tool_rows(const OrderItem& item, const Subject& subject, Step& step) {
    if (item.tool_rows.empty() || subject.shutoff == nullptr) return;
    const squeeze::Tool* tool = tool_of(*subject.shutoff);
    if (tool == nullptr) {
      if (std::ranges::find(tools_missing_, subject.suffix) == tools_missing_.end())
        tools_missing_.push_back(subject.suffix);
      return;
    }
    for (const squeeze::Instruction& row : tool->instructions) {
      if (std::ranges::find(item.tool_rows, row.stage) != item.tool_rows.end())
        step.tool_rows.push_back({tool->id, row.says, tool->source});
    }
  }

  Step step(const OrderItem& item, const Subject& subject, Each each) {
    move_on(item, subject);
    const Values known = values(subject);
    Step step;
    step.id = step_id(item.id, subject);
    step.kind = item.kind;
    step.does = filled(item.does, known);
    while (step.does.ends_with(' ')) step.does.pop_back();
    step.precondition = filled(item.precondition, known);
    step.role = filled(item.role, known);
    step.place = filled(item.place, known);
    step.if_not = filled(item.if_not, known);
    step.report_to = filled(item.report_to, known);
    if (subject.shutoff != nullptr) step.about = subject.shutoff->letter;
    if (subject.post != nullptr) {
      step.about = subject.post->element;
      step.post = subject.post->id;
    }
    step.hold_point = item.hold_point;
    step.names_needed = item.names;
    step.source = item.source;
    step.evidence = item.evidence;
    step.stage = stage_;
    add_gauges(item, subject, step);
    add_way_back(item, step);
    add_tool_rows(item, subject, step);
    written_[item.id].push_back({each, subject.suffix, step.id});
    wants_.push_back({each, subject.suffix, item.after});
    return step;
  }

  /// `after` names items of the order: of one that repeats for shut-offs, the step of this shut-off
  /// where this one repeats for shut-offs too, else all of them.
  void resolve_after() {
    const auto of_shutoffs = [](Each each) {
      return each == Each::shutoff || each == Each::opening;
    };
    for (std::size_t i = 0; i < list_.steps.size(); ++i) {
      for (const std::string& item : wants_[i].after) {
        for (const Written& before : written_[item]) {
          const bool same_only = of_shutoffs(before.each) && of_shutoffs(wants_[i].each);
          if (!same_only || before.suffix == wants_[i].suffix)
            list_.steps[i].after.push_back(before.id);
        }
      }
    }
  }

  Finding no_tool() const {
    return {
        .rule = "steps.tool_rows",
        .grade = Grade::undecided,
        .says =
            fmt::format("no tool is named for {}: what its maker asks is missing from the steps",
                        fmt::join(tools_missing_, ", ")),
        .quantity = "rows of the tool's record",
        .source = "tool records",
        .evidence = Evidence::derived,
        .action = "give the company's tools, or lay the tool's own instructions beside the plan",
        .about = fmt::format("{}", fmt::join(tools_missing_, ", "))};
  }

  struct Written {
    Each each;
    std::string suffix, id;
  };
  struct Wants {
    Each each;
    std::string suffix;
    std::vector<std::string> after;
  };

  const StepsQuestion& in_;
  const Network& network_;
  const std::vector<StageNumbers>& numbers_;
  StepList& list_;
  Gauges gauges_;
  BypassChoice bypass_;
  std::optional<Duration> read_every_;
  Values job_;
  std::size_t stage_ = 0;
  PartState part_ = PartState::live;
  bool cut_ = false;
  std::map<std::string, std::vector<Written>> written_;
  std::vector<Wants> wants_;
  std::vector<std::string> tools_missing_;
};

/// Stations that some state upsets and that have no post yet.
std::vector<Index> without_post(const Network& network, const StepList& list,
                                const ShutoffPlan& plan, const std::vector<StageNumbers>& numbers) {
  std::vector<Index> missing;
  for (const StageNumbers& stage : numbers) {
    for (const Index regulator : stage.watch) {
      const std::string& id = network.regulators.id[at(regulator)];
      const bool posted = std::ranges::any_of(list.posts, [&](const Post& post) {
        return post.kind == PostKind::regulator && post.element == id;
      });
      const bool shut = std::ranges::any_of(plan.shutoffs, [&](const Shutoff& s) {
        return s.place.kind == ShutKind::regulator_outlet && s.place.element == regulator;
      });
      if (!posted && !shut) missing.push_back(regulator);
    }
  }
  return missing;
}

}  // namespace

void write_steps(const StepsQuestion& in, const std::vector<StageNumbers>& numbers,
                 StepList& list) {
  Writer(in, numbers, list).write();
  add_watches(in, list);
  Findings found = check_steps(checked_of(in.question, in.plan, list));
  // What nobody set has been said, with who decides; the check of a finished paper halts on it.
  std::erase_if(found, [](const Finding& finding) {
    return finding.rule == "steps.gauge_limits" ||
           (finding.rule == "steps.gauge_range" && finding.grade == Grade::undecided);
  });
  append(list.findings, std::move(found));
}

Result<StepList> steps_of(const StepsQuestion& in, Stages& stages, Watch& watch) {
  ClosingOrder closing;
  if (in.order.first == First::least_harm) {
    BELLHOLE_TRY(by_network, stages.closing_order(watch));
    closing = std::move(by_network);
  } else {
    closing = closing_by(in.question, in.plan, in.order.first);
  }
  const auto prepare = [&](const std::vector<Index>& upset) {
    return prepare_steps(in.question, in.before, in.plan, closing, in.order.opened, upset);
  };
  BELLHOLE_TRY(list, prepare({}));
  BELLHOLE_TRY(numbers, stages.numbers(list.points, list.stages, watch));
  const auto upset = without_post(in.question.model.network(), list, in.plan, numbers);
  if (!upset.empty()) {
    BELLHOLE_TRY(more, prepare(upset));
    list = std::move(more);
    BELLHOLE_TRY(again, stages.numbers(list.points, list.stages, watch));
    numbers = std::move(again);
  }
  append(list.findings, first_of_each(numbers));
  write_steps(in, numbers, list);
  return std::move(list);
}

}  // namespace bellhole::plan
