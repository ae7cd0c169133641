// The words that documents, map files and messages use for the enumerations of a network. One table
// each, read in both directions.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "network/columns.hpp"

namespace bellhole::network {

template <class E>
using Word = std::pair<E, std::string_view>;

inline constexpr std::array material_words{
    Word<Material>{Material::pe, "pe"},
    Word<Material>{Material::steel, "steel"},
    Word<Material>{Material::cast_iron, "cast_iron"},
    Word<Material>{Material::pvc, "pvc"},
    Word<Material>{Material::other, "other"},
    Word<Material>{Material::unknown, "unknown"},
};
inline constexpr std::array position_words{
    Word<Position>{Position::open, "open"},
    Word<Position>{Position::closed, "closed"},
    Word<Position>{Position::unknown, "unknown"},
};
inline constexpr std::array sensing_words{
    Word<Sensing>{Sensing::own_outlet, "own_outlet"},
    Word<Sensing>{Sensing::remote, "remote"},
    Word<Sensing>{Sensing::unknown, "unknown"},
};
inline constexpr std::array ternary_words{
    Word<Ternary>{Ternary::no, "no"},
    Word<Ternary>{Ternary::yes, "yes"},
    Word<Ternary>{Ternary::unknown, "unknown"},
};
inline constexpr std::array feature_words{
    Word<FeatureKind>{FeatureKind::joint, "joint"},
    Word<FeatureKind>{FeatureKind::fitting, "fitting"},
    Word<FeatureKind>{FeatureKind::service_tee, "service_tee"},
    Word<FeatureKind>{FeatureKind::transition, "transition"},
    Word<FeatureKind>{FeatureKind::squeeze, "squeeze"},
    Word<FeatureKind>{FeatureKind::repair, "repair"},
    Word<FeatureKind>{FeatureKind::cap, "cap"},
    Word<FeatureKind>{FeatureKind::relief, "relief"},
    Word<FeatureKind>{FeatureKind::telemetry, "telemetry"},
    Word<FeatureKind>{FeatureKind::control_line, "control_line"},
    Word<FeatureKind>{FeatureKind::stub, "stub"},
    Word<FeatureKind>{FeatureKind::other, "other"},
};
inline constexpr std::array backdrop_words{
    Word<BackdropKind>{BackdropKind::coast, "coast"},
    Word<BackdropKind>{BackdropKind::street, "street"},
    Word<BackdropKind>{BackdropKind::building, "building"},
    Word<BackdropKind>{BackdropKind::water, "water"},
    Word<BackdropKind>{BackdropKind::other, "other"},
};

inline constexpr std::span<const Word<Material>> words(Material) { return material_words; }
inline constexpr std::span<const Word<Position>> words(Position) { return position_words; }
inline constexpr std::span<const Word<Sensing>> words(Sensing) { return sensing_words; }
inline constexpr std::span<const Word<Ternary>> words(Ternary) { return ternary_words; }
inline constexpr std::span<const Word<FeatureKind>> words(FeatureKind) { return feature_words; }
inline constexpr std::span<const Word<BackdropKind>> words(BackdropKind) { return backdrop_words; }

/// The word of an enumerator: "cast_iron".
template <class E>
constexpr std::string_view word(E value) {
  for (const auto& [e, text] : words(E{})) {
    if (e == value) return text;
  }
  return "unknown";
}

/// The enumerator of a word, or nothing.
template <class E>
constexpr std::optional<E> from_word(std::string_view text) {
  for (const auto& [e, known] : words(E{})) {
    if (known == text) return e;
  }
  return std::nullopt;
}

/// All words of an enumeration, for messages: "joint, fitting, service_tee".
template <class E>
std::string all_words() {
  std::string text;
  for (const auto& [e, known] : words(E{})) {
    if (!text.empty()) text += ", ";
    text += known;
  }
  return text;
}

}  // namespace bellhole::network
