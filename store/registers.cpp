#include <algorithm>
#include <cmath>
#include <numbers>

#include "store/store.hpp"

namespace bellhole::store {
namespace {

/// Mean radius of the earth (IUGG). Flattening moves a distance by 0.6 % at most, which the search
/// adds to its reach, since a squeeze that is missed is squeezed again.
constexpr double earth_m = 6371008.8, flattening_slack = 1.006;

double great_circle_m(double lon1, double lat1, double lon2, double lat2) {
  const double to_radians = std::numbers::pi / 180.0;
  const double a = std::sin((lat2 - lat1) * to_radians / 2),
               b = std::sin((lon2 - lon1) * to_radians / 2);
  const double h = a * a + std::cos(lat1 * to_radians) * std::cos(lat2 * to_radians) * b * b;
  return 2.0 * earth_m * std::asin(std::min(1.0, std::sqrt(h)));
}

std::optional<double> maybe(const Statement& row, int column) {
  if (row.null(column)) return {};
  return row.real(column);
}

void nearest_first(std::vector<Store::Squeeze>& found) {
  std::ranges::stable_sort(found, {}, [](const Store::Squeeze& one) {
    return one.away ? one.away->si() : std::numeric_limits<double>::infinity();
  });
}

}  // namespace

Result<bool> Store::enroll(const std::string& kind, const std::string& id,
                           std::string_view document, const std::string& entered_at) {
  BELLHOLE_TRY(change, Change::begin(database_));
  BELLHOLE_TRY(insert,
               database_.prepare("INSERT INTO registers (kind, id, version, entered_at, document) "
                                 "SELECT ?, ?, 1 + COALESCE(MAX(version), 0), ?, ? FROM registers "
                                 "WHERE kind = ? AND id = ?"));
  BELLHOLE_TRY(
      done, insert.bind(kind).bind(id).bind(entered_at).bind(document).bind(kind).bind(id).run());
  static_cast<void>(done);
  return change.commit();
}

Result<std::vector<Store::Entry>> Store::entries(const std::string& kind) {
  BELLHOLE_TRY(
      select,
      database_.prepare("SELECT id, entered_at, document, version FROM registers AS latest WHERE "
                        "kind = ? AND version = (SELECT MAX(version) FROM registers WHERE kind = "
                        "latest.kind AND id = latest.id) ORDER BY id"));
  select.bind(kind);
  std::vector<Entry> all;
  while (true) {
    BELLHOLE_TRY(more, select.step());
    if (!more) break;
    all.push_back({select.text(0), select.text(1), select.text(2), select.number(3)});
  }
  return all;
}

Result<bool> Store::forget(const std::string& kind, const std::string& id) {
  BELLHOLE_TRY(erase, database_.prepare("DELETE FROM registers WHERE kind = ? AND id = ?"));
  return erase.bind(kind).bind(id).run();
}

Result<std::vector<Store::Squeeze>> Store::squeezes() {
  BELLHOLE_TRY(fresh, refresh());
  static_cast<void>(fresh);
  BELLHOLE_TRY(select, database_.prepare("SELECT job, about, element, pipe, at, marked, event, "
                                         "station_m, lon, lat FROM squeezes ORDER BY at, event"));
  std::vector<Squeeze> all;
  while (true) {
    BELLHOLE_TRY(more, select.step());
    if (!more) break;
    Squeeze one{select.text(0),
                select.text(1),
                select.text(2),
                select.text(3),
                select.text(4),
                select.text(5),
                select.text(6),
                {},
                {},
                {},
                {}};
    if (const auto station = maybe(select, 7)) one.station = Length::from_si(*station);
    one.lon = maybe(select, 8);
    one.lat = maybe(select, 9);
    all.push_back(std::move(one));
  }
  return all;
}

Result<std::vector<Store::Squeeze>> Store::squeezes_on(const std::string& element, Length station,
                                                       Length within) {
  BELLHOLE_TRY(all, squeezes());
  std::vector<Squeeze> found;
  for (Squeeze& one : all) {
    if (one.element != element) continue;
    if (one.station) one.away = Length::from_si(std::abs((*one.station - station).si()));
    if (!one.away || *one.away <= within) found.push_back(std::move(one));
  }
  nearest_first(found);
  return found;
}

Result<std::vector<Store::Squeeze>> Store::squeezes_near(double lon, double lat, Length within) {
  BELLHOLE_TRY(all, squeezes());
  std::vector<Squeeze> found;
  for (Squeeze& one : all) {
    if (one.lon && one.lat)
      one.away = Length::from_si(great_circle_m(lon, lat, *one.lon, *one.lat));
    if (!one.away || one.away->si() <= within.si() * flattening_slack)
      found.push_back(std::move(one));
  }
  nearest_first(found);
  return found;
}

}  // namespace bellhole::store
