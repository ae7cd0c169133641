#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

Result<plan::Gauge> read_gauge(const Object& object) {
  plan::Gauge gauge;
  BELLHOLE_TRY(at, object.need_text("at", "say where the gauge is read"));
  BELLHOLE_TRY(point, object.text("point"));
  BELLHOLE_TRY(range, object.quantity<kinds::GaugePressure>("range"));
  BELLHOLE_TRY(expect, object.quantity<kinds::GaugePressure>("expect"));
  BELLHOLE_TRY(low, object.quantity<kinds::GaugePressure>("low"));
  BELLHOLE_TRY(high, object.quantity<kinds::GaugePressure>("high"));
  BELLHOLE_TRY(post, object.text("post"));
  gauge.at = at;
  gauge.point = point.value_or("");
  gauge.range = range;
  gauge.expect = expect;
  gauge.low = low;
  gauge.high = high;
  gauge.post = post.value_or("");
  return gauge;
}

Result<bool> read_person(const Object& object, plan::Step& step) {
  BELLHOLE_TRY(person, object.object("post"));
  if (!person) return true;  // nobody named: the check says so
  BELLHOLE_TRY(id, person->text("id"));
  BELLHOLE_TRY(role, person->text("role"));
  BELLHOLE_TRY(place, person->text("place"));
  step.post = id.value_or("");
  step.role = role.value_or("");
  step.place = place.value_or("");
  return true;
}

Result<bool> read_answering(const Object& object, plan::Step& step) {
  BELLHOLE_TRY(undo, object.quantity<kinds::Duration>("undo"));
  BELLHOLE_TRY(left, object.quantity<kinds::Duration>("time_left"));
  BELLHOLE_TRY(no_return, object.flag("point_of_no_return"));
  BELLHOLE_TRY(hold, object.flag("hold_point"));
  BELLHOLE_TRY(names, object.whole("names_needed"));
  constexpr std::int64_t most_names = 99;  // more would be no sheet of paper
  if (names && (*names < 0 || *names > most_names))
    return trouble(Code::out_of_range, object.at("names_needed"), std::to_string(*names),
                   "give how many people sign");
  BELLHOLE_TRY(watch, object.object("watch"));
  if (watch) {
    BELLHOLE_TRY(least, watch->quantity<kinds::Duration>("least"));
    step.watch.emplace().least = least;
  }
  step.undo = undo;
  step.time_left = left;
  step.point_of_no_return = no_return.value_or(false);
  step.hold_point = hold.value_or(false);
  step.names_needed = static_cast<int>(names.value_or(0));
  return true;
}

Result<plan::Step> read_step(const Object& object) {
  plan::Step step;
  BELLHOLE_TRY(id, object.need_text("id", "a step has an id"));
  BELLHOLE_TRY(kind, object.need_text("kind", "a step has a kind"));
  const auto known = plan::step_kind_from(kind);
  if (!known)
    return trouble(Code::unreadable_value, object.at("kind"), kind,
                   "this is no kind of step; docs/handbook/steps.md lists them");
  BELLHOLE_TRY(does, object.text("does"));
  BELLHOLE_TRY(if_not, object.text("if_not"));
  BELLHOLE_TRY(report_to, object.text("report_to"));
  BELLHOLE_TRY(about, object.text("about"));
  BELLHOLE_TRY(after, object.texts("after"));
  step.id = id;
  step.kind = *known;
  step.does = does.value_or("");
  step.if_not = if_not.value_or("");
  step.report_to = report_to.value_or("");
  step.about = about.value_or("");
  step.after = after;
  for (const auto& read : {read_person(object, step), read_answering(object, step)})
    if (!read) return std::unexpected(read.error());
  BELLHOLE_TRY(gauges, object.objects("gauges"));
  for (const Object& gauge : gauges) {
    BELLHOLE_TRY(one, read_gauge(gauge));
    step.gauges.push_back(std::move(one));
  }
  return step;
}

Result<bool> read_shutoffs(const Object& object, plan::Checked& checked) {
  BELLHOLE_TRY(shutoffs, object.objects("shutoffs"));
  for (const Object& shutoff : shutoffs) {
    BELLHOLE_TRY(letter, shutoff.need_text("id", "a shut-off has a letter"));
    BELLHOLE_TRY(kind, shutoff.need_text("kind", "a shut-off has a kind"));
    BELLHOLE_TRY(element, shutoff.text("element"));
    BELLHOLE_TRY(two, shutoff.flag("double"));
    const bool squeeze = kind == "squeeze";
    checked.shutoffs.push_back(
        {letter, element.value_or(""), squeeze, squeeze && two.value_or(true)});
  }
  return true;
}

void add_station(plan::Checked& checked, const std::string& id) {
  if (std::ranges::find(checked.stations, id) == checked.stations.end())
    checked.stations.push_back(id);
}

/// Stations that need a person: those that the map has on the part, those that have a post, those
/// that have a gauge. Taking one of these away does not take the station away.
Result<bool> read_stations(const Object& object, plan::Checked& checked) {
  BELLHOLE_TRY(isolated, object.object("isolated"));
  if (!isolated) return true;
  BELLHOLE_TRY(equipment, isolated->objects("equipment"));
  for (const Object& item : equipment) {
    BELLHOLE_TRY(kind, item.need_text("kind", "a piece of equipment has a kind"));
    BELLHOLE_TRY(id, item.need_text("id", "a piece of equipment has an id"));
    if (kind == "regulator_inlet" || kind == "regulator_outlet" || kind == "sensing_tap")
      add_station(checked, id);
  }
  return true;
}

Result<bool> read_posts(const Object& object, plan::Checked& checked) {
  BELLHOLE_TRY(posts, object.objects("posts"));
  for (const Object& item : posts) {
    plan::Post post;
    BELLHOLE_TRY(id, item.need_text("id", "a post has an id"));
    BELLHOLE_TRY(kind, item.need_text("kind", "a post has a kind"));
    BELLHOLE_TRY(which,
                 one_of(kind, {"shutoff", "regulator", "low_point", "other"}, item.at("kind")));
    BELLHOLE_TRY(place, item.text("place"));
    BELLHOLE_TRY(element, item.text("element"));
    post.id = id;
    post.kind = static_cast<plan::PostKind>(which);
    post.place = place.value_or("");
    post.element = element.value_or("");
    if (post.kind == plan::PostKind::regulator) add_station(checked, post.element);
    checked.posts.push_back(std::move(post));
  }
  return true;
}

Result<bool> read_points(const Object& object, plan::Checked& checked) {
  BELLHOLE_TRY(points, object.objects("gauge_points"));
  for (const Object& item : points) {
    plan::GaugePoint point;
    BELLHOLE_TRY(id, item.need_text("id", "a gauge point has an id"));
    BELLHOLE_TRY(kind, item.need_text("kind", "a gauge point has a kind"));
    BELLHOLE_TRY(
        which,
        one_of(kind, {"live_side", "part_side", "regulator_inlet", "regulator_outlet", "low_point"},
               item.at("kind")));
    BELLHOLE_TRY(letter, item.text("shutoff"));
    BELLHOLE_TRY(station, item.text("regulator"));
    BELLHOLE_TRY(post, item.text("post"));
    point.id = id;
    point.kind = static_cast<plan::PointKind>(which);
    point.post = post.value_or("");
    if (letter) {
      const auto found =
          std::ranges::find(checked.shutoffs, *letter, &plan::CheckedShutoff::letter);
      if (found == checked.shutoffs.end())
        return trouble(Code::unknown_element, item.at("shutoff"), *letter,
                       "no shut-off of this plan has that letter");
      point.shutoff = static_cast<std::size_t>(found - checked.shutoffs.begin());
    }
    if (station) add_station(checked, *station);
    checked.points.push_back(std::move(point));
  }
  return true;
}

}  // namespace

Result<PlanOnPaper> read_plan_on_paper(const Object& object, plan::Kind kind,
                                       std::size_t position) {
  PlanOnPaper paper;
  BELLHOLE_TRY(rank, object.whole("rank"));
  paper.rank = rank.value_or(static_cast<std::int64_t>(position) + 1);
  paper.checked.kind = kind;
  if (!object.has("steps"))
    return trouble(Code::missing_value, object.at("steps"), "",
                   "this plan has no steps: ask the question plan again, with this version");
  for (const auto& read :
       {read_shutoffs(object, paper.checked), read_stations(object, paper.checked),
        read_posts(object, paper.checked), read_points(object, paper.checked)})
    if (!read) return std::unexpected(read.error());
  BELLHOLE_TRY(out, object.objects("customers_out"));
  paper.checked.customers_out = static_cast<std::int64_t>(out.size());
  BELLHOLE_TRY(steps, object.objects("steps"));
  for (const Object& step : steps) {
    BELLHOLE_TRY(one, read_step(step));
    paper.checked.steps.push_back(std::move(one));
  }
  return paper;
}

Result<plan::Step> read_one_step(const Object& object) { return read_step(object); }

Result<PlanDocument> read_plan_document(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name, plan_cap));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, Object::of(json, "", &assumed));
  BELLHOLE_TRY(question, object.text("question"));
  if (question != "plan")
    return trouble(Code::unreadable_document, std::string(name), question.value_or(""),
                   "give the reply of plan --json");
  BELLHOLE_TRY(kind, object.need_text("kind", "a plan says planned or emergency"));
  BELLHOLE_TRY(which, one_of(kind, {"planned", "emergency"}, object.at("kind")));
  BELLHOLE_TRY(id, object.text("plan_id"));
  BELLHOLE_TRY(engine, object.text("engine"));
  BELLHOLE_TRY(plans, object.objects("plans"));
  if (plans.empty())
    return trouble(Code::missing_value, object.at("plans"), "", "this document lists no plan");
  PlanDocument document{id.value_or(""), engine.value_or(""), {}};
  for (std::size_t i = 0; i < plans.size(); ++i) {
    BELLHOLE_TRY(one, read_plan_on_paper(
                          plans[i], which == 0 ? plan::Kind::planned : plan::Kind::emergency, i));
    document.plans.push_back(std::move(one));
  }
  return document;
}

}  // namespace bellhole::wire
