// What the tests of the sheets share: sample replies, and a look at a PDF from outside.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "wire/json.hpp"

namespace bellhole::sheets::test {

/// A squeeze reply as the command line wrote it for IPS 4 DR 11.5 with the demonstration company's
/// profile.
wire::Json sample_squeeze();
/// A plan of an invented place: two squeezes with their sheets and a valve, eight customers out.
wire::Json sample_plan();

/// Pages counted in the file itself, without any reader of PDF.
std::size_t pages_of(const std::string& pdf);

/// Text of all pages by poppler's pdftotext, blanks folded; nothing where that is not installed.
std::optional<std::string> text_of(const std::string& pdf);

struct Word {
  std::size_t page = 0;
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  std::string says;
};
/// Every word with its box; nothing where pdftotext is not installed.
std::optional<std::vector<Word>> words_of(const std::string& pdf);

/// Words that lie on each other or outside the paper's margins, said in words; empty when all is
/// well.
std::string crowding(const std::vector<Word>& words, double paper_w, double paper_h);

/// The paths of all values in a document, leaves and containers; of a list only the first two
/// items, since the rest are of a kind.
std::vector<std::string> pointers_in(const wire::Json& json);

}  // namespace bellhole::sheets::test
