#include "sheets/options.hpp"

namespace bellhole::sheets {

Result<Paper> paper_from(std::string_view word) {
  if (word == "a4" || word == "A4") return Paper::a4;
  if (word == "letter" || word == "Letter") return Paper::letter;
  return trouble(Code::unreadable_value, "--paper", std::string(word), "give a4 or letter");
}

}  // namespace bellhole::sheets
