#include "plan/found.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <limits>

#include "pipe/walls.hpp"

namespace bellhole::plan {
namespace {

using network::Ternary;

std::string says_of(const network::Pipes& pipes, std::size_t p) {
  std::string text = pipes.nominal_size[p].empty() ? "size unknown" : pipes.nominal_size[p];
  if (std::isfinite(pipes.ratio[p])) text += fmt::format(" DR {:g}", pipes.ratio[p]);
  return pipes.grade[p].empty() ? text : text + " " + pipes.grade[p];
}

/// Nothing where neither ratio nor a reading of the wall is known.
Result<std::optional<Length>> bore_of(const squeeze::Found& found, double ratio) {
  if (!found.readings.empty()) {
    BELLHOLE_TRY(walls, pipe::walls_measured(found.size, found.readings, "found"));
    return found.size.od - 2.0 * walls.nominal;
  }
  if (!std::isfinite(ratio)) return std::optional<Length>();
  BELLHOLE_TRY(walls, pipe::walls_by_ratio(found.size, ratio, "found"));
  return found.size.od - 2.0 * walls.nominal;
}

void lay(Ternary& over, pipe::Told told) {
  constexpr std::array known{Ternary::no, Ternary::yes};
  if (told != pipe::Told::unknown) over = known[static_cast<std::size_t>(told)];
}

}  // namespace

Result<std::string> lay_over(network::Network& network, network::Index pipe,
                             const squeeze::Found& found) {
  network::Pipes& pipes = network.pipes;
  const auto p = static_cast<std::size_t>(pipe);
  const std::string map = says_of(pipes, p);
  if (found.ratio)
    pipes.ratio[p] = *found.ratio;
  else if (!found.readings.empty() || pipes.nominal_size[p] != found.size.name)
    pipes.ratio[p] = std::numeric_limits<double>::quiet_NaN();
  pipes.nominal_size[p] = found.size.name;
  BELLHOLE_TRY(bore, bore_of(found, pipes.ratio[p]));
  if (bore) pipes.bore[p] = *bore;
  if (found.material != nullptr) {
    pipes.material[p] = network::Material::pe;
    pipes.grade[p] = found.material->name;
  }
  if (found.made)
    pipes.year[p] = static_cast<std::int16_t>(std::floor(1970.0 + found.made->last / 365.2425));
  network::Lining& lining = pipes.lining[p];
  lay(lining.inserted, found.lining.inserted);
  lay(lining.cased, found.lining.cased);
  lay(lining.layered, found.lining.layered);
  lay(lining.lined, found.lining.lined);
  return fmt::format("main {} is taken as found, {}, from end to end; the map has {}{}",
                     pipes.id[p], says_of(pipes, p), map,
                     bore ? "" : "; its bore is not known anew and stays the map's");
}

}  // namespace bellhole::plan
