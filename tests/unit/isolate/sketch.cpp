#include "sketch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <sstream>
#include <tuple>
#include <utility>

namespace bellhole::isolate::test {

namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// All that may be shut, numbered: edges first, then supplies.
struct Places {
  std::vector<std::size_t> edges, supplies;
  [[nodiscard]] std::size_t size() const { return edges.size() + supplies.size(); }
};

Places places_of(const Sketch& sketch) {
  Places places;
  for (std::size_t e = 0; e < sketch.edges.size(); ++e) {
    if (sketch.edges[e].shut < forbidden) places.edges.push_back(e);
  }
  for (std::size_t s = 0; s < sketch.supplies.size(); ++s) {
    if (sketch.supplies[s].shut < forbidden) places.supplies.push_back(s);
  }
  return places;
}

std::pair<std::vector<bool>, std::vector<bool>> shut_by(const Sketch& sketch, const Places& places,
                                                        std::size_t set) {
  std::vector<bool> edges(sketch.edges.size()), supplies(sketch.supplies.size());
  for (std::size_t i = 0; i < places.size(); ++i) {
    if ((set >> i & 1U) == 0) continue;
    if (i < places.edges.size()) {
      edges[places.edges[i]] = true;
    } else {
      supplies[places.supplies[i - places.edges.size()]] = true;
    }
  }
  return {edges, supplies};
}

/// The set as a cut; cost `forbidden` if it loses what may not be lost.
Cut cut_of(const Sketch& sketch, const std::vector<bool>& edges, const std::vector<bool>& supplies,
           const std::vector<bool>& fed) {
  Cut cut;
  for (std::size_t e = 0; e < edges.size(); ++e) {
    if (!edges[e]) continue;
    cut.shut.push_back(static_cast<EdgeIndex>(e));
    cut.cost = plus(cut.cost, sketch.edges[e].shut);
  }
  for (std::size_t s = 0; s < supplies.size(); ++s) {
    if (!supplies[s]) continue;
    cut.supplies_shut.push_back(static_cast<std::int32_t>(s));
    cut.cost = plus(cut.cost, sketch.supplies[s].shut);
  }
  const std::vector<bool> still = reached(sketch, edges, supplies);
  for (std::size_t v = 0; v < sketch.lost.size(); ++v) {
    if (!fed[v] || still[v]) continue;
    cut.lost.push_back(static_cast<Vertex>(v));
    cut.cost = plus(cut.cost, sketch.lost[v]);
  }
  return cut;
}

bool parts(const Sketch& sketch, const std::vector<bool>& edges, const std::vector<bool>& supplies,
           const std::vector<Vertex>& work) {
  const std::vector<bool> still = reached(sketch, edges, supplies);
  return std::none_of(work.begin(), work.end(), [&](Vertex v) { return still[at(v)]; });
}

/// Whether the work has gas again as soon as any one place is opened.
bool minimal(const Sketch& sketch, std::vector<bool> edges, std::vector<bool> supplies,
             const std::vector<Vertex>& work) {
  const auto needed = [&](std::vector<bool>& shut) {
    for (std::size_t i = 0; i < shut.size(); ++i) {
      if (!shut[i]) continue;
      shut[i] = false;
      const bool superfluous = parts(sketch, edges, supplies, work);
      shut[i] = true;
      if (superfluous) return false;
    }
    return true;
  };
  return parts(sketch, edges, supplies, work) && needed(edges) && needed(supplies);
}

bool in_order(const Cut& a, const Cut& b) {
  const auto shut = [](const Cut& cut) { return cut.shut.size() + cut.supplies_shut.size(); };
  return std::tuple(a.cost, shut(a), a.shut, a.supplies_shut) <
         std::tuple(b.cost, shut(b), b.shut, b.supplies_shut);
}

std::string print(const Cut& cut) {
  std::ostringstream out;
  out << "cost " << cut.cost << " shut";
  for (const auto e : cut.shut) out << ' ' << e;
  for (const auto s : cut.supplies_shut) out << " supply " << s;
  out << " lost";
  for (const auto v : cut.lost) out << ' ' << v;
  return out.str();
}

}  // namespace

Asked ask(const Sketch& sketch, const Query& query, int k) {
  const auto refuse = [](const Trouble& trouble) {
    std::fprintf(stderr, "%s %s: %s\n", trouble.where.c_str(), trouble.value.c_str(),
                 trouble.fix.c_str());
    std::abort();
  };
  const auto graph = Graph::prepare(sketch.lost, sketch.edges, sketch.supplies);
  if (!graph) refuse(graph.error());
  Scratch scratch;
  Unwatched watch;
  auto cuts = Cuts::start(*graph, query, scratch, watch);
  if (!cuts) refuse(cuts.error());
  Asked asked;
  while (k < 0 || static_cast<int>(asked.cuts.size()) < k) {
    auto cut = cuts->next();
    if (!cut) break;
    asked.cuts.push_back(*std::move(cut));
  }
  asked.proof = cuts->proof();
  asked.blocked = cuts->blocked();
  asked.already_off.assign(cuts->already_off().begin(), cuts->already_off().end());
  return asked;
}

Query about(std::vector<Vertex> work) {
  Query query;
  query.work = std::move(work);
  query.limit = 10'000'000;
  query.tie_limit = 10'000'000;
  return query;
}

Sketch with_costs_of(Sketch sketch, const Query& query) {
  for (const auto& [edge, shut] : query.edges) sketch.edges[at(edge)].shut = shut;
  for (const auto& [vertex, lost] : query.vertices) sketch.lost[at(vertex)] = lost;
  for (const auto& [supply, shut] : query.supplies) sketch.supplies[at(supply)].shut = shut;
  return sketch;
}

std::vector<bool> reached(const Sketch& sketch, const std::vector<bool>& edge_shut,
                          const std::vector<bool>& supply_shut) {
  std::vector<bool> fed(sketch.lost.size());
  for (std::size_t s = 0; s < sketch.supplies.size(); ++s) {
    if (!supply_shut[s]) fed[at(sketch.supplies[s].at)] = true;
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t e = 0; e < sketch.edges.size(); ++e) {
      const auto [a, b, shut] = sketch.edges[e];
      if (edge_shut[e] || fed[at(a)] == fed[at(b)]) continue;
      fed[at(a)] = fed[at(b)] = changed = true;
    }
  }
  return fed;
}

std::vector<Cut> brute_force(const Sketch& sketch, const std::vector<Vertex>& work) {
  const Places places = places_of(sketch);
  const std::vector<bool> fed = reached(sketch, std::vector<bool>(sketch.edges.size()),
                                        std::vector<bool>(sketch.supplies.size()));
  std::vector<bool> off(std::size_t{1}
                        << places.size());  // whether the set takes gas from all of the work
  for (std::size_t set = 0; set < off.size(); ++set) {
    const auto [edges, supplies] = shut_by(sketch, places, set);
    off[set] = parts(sketch, edges, supplies, work);
  }
  std::vector<Cut> cuts;
  for (std::size_t set = 0; set < off.size(); ++set) {
    if (!off[set]) continue;
    bool minimal = true;
    for (std::size_t i = 0; i < places.size(); ++i) {
      if ((set >> i & 1U) != 0 && off[set & ~(std::size_t{1} << i)]) minimal = false;
    }
    if (!minimal) continue;
    const auto [edges, supplies] = shut_by(sketch, places, set);
    Cut cut = cut_of(sketch, edges, supplies, fed);
    if (cut.cost < forbidden) cuts.push_back(std::move(cut));
  }
  std::sort(cuts.begin(), cuts.end(), in_order);
  return cuts;
}

std::vector<Cut> brute_force_zones(const Sketch& sketch, const std::vector<Vertex>& work) {
  const std::size_t n = sketch.lost.size();
  const std::vector<bool> fed = reached(sketch, std::vector<bool>(sketch.edges.size()),
                                        std::vector<bool>(sketch.supplies.size()));
  std::vector<Cut> cuts;
  for (std::size_t zone = 0; zone < std::size_t{1} << n; ++zone) {
    const auto lost = [&](Vertex v) { return fed[at(v)] && (zone >> at(v) & 1U) != 0; };
    std::vector<bool> edges(sketch.edges.size()), supplies(sketch.supplies.size());
    bool possible =
        std::all_of(work.begin(), work.end(), [&](Vertex v) { return lost(v) || !fed[at(v)]; });
    for (std::size_t v = 0; v < n; ++v) possible = possible && (fed[v] || (zone >> v & 1U) == 0);
    for (std::size_t e = 0; e < edges.size(); ++e) {
      edges[e] = lost(sketch.edges[e].a) != lost(sketch.edges[e].b);
      possible = possible && (!edges[e] || sketch.edges[e].shut < forbidden);
    }
    for (std::size_t s = 0; s < supplies.size(); ++s) {
      supplies[s] = lost(sketch.supplies[s].at);
      possible = possible && (!supplies[s] || sketch.supplies[s].shut < forbidden);
    }
    if (!possible || !minimal(sketch, edges, supplies, work)) continue;
    Cut cut = cut_of(sketch, edges, supplies, fed);
    for (const Vertex v : cut.lost) possible = possible && lost(v);
    if (possible && cut.cost < forbidden) cuts.push_back(std::move(cut));
  }
  std::sort(cuts.begin(), cuts.end(), in_order);
  return cuts;
}

std::string print(const std::vector<Cut>& cuts) {
  std::string text;
  for (const Cut& cut : cuts) text += print(cut) + "\n";
  return text;
}

std::string print(const Sketch& sketch, const std::vector<Vertex>& work) {
  std::ostringstream out;
  const auto cost = [](Cost c) {
    return c == forbidden ? std::string("never") : std::to_string(c);
  };
  for (std::size_t v = 0; v < sketch.lost.size(); ++v)
    out << "vertex " << v << ' ' << cost(sketch.lost[v]) << '\n';
  for (std::size_t e = 0; e < sketch.edges.size(); ++e) {
    out << "edge " << e << ": " << sketch.edges[e].a << '-' << sketch.edges[e].b << ' '
        << cost(sketch.edges[e].shut) << '\n';
  }
  for (const Supply& supply : sketch.supplies)
    out << "supply at " << supply.at << ' ' << cost(supply.shut) << '\n';
  for (const Vertex v : work) out << "work " << v << '\n';
  return out.str();
}

}  // namespace bellhole::isolate::test
