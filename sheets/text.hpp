// Text as it stands on paper: runs of regular and bold, one size for a block.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bellhole::sheets {

struct Run {
  std::string says;
  bool bold = false;
};

/// A paragraph. Strings convert to it; bold() marks a part: bold("Gap ") + "1.098 in".
class Text {
 public:
  Text() = default;
  Text(std::string says) {
    runs_.push_back({std::move(says), false});
  }  // NOLINT(google-explicit-constructor)
  Text(const char* says) : Text(std::string(says)) {}  // NOLINT(google-explicit-constructor)
  explicit Text(Run run) { runs_.push_back(std::move(run)); }

  Text& operator+=(const Text& more) {
    runs_.insert(runs_.end(), more.runs_.begin(), more.runs_.end());
    return *this;
  }
  friend Text operator+(Text a, const Text& b) { return a += b; }

  [[nodiscard]] const std::vector<Run>& runs() const { return runs_; }
  [[nodiscard]] bool empty() const;
  [[nodiscard]] std::string plain() const;

 private:
  std::vector<Run> runs_;
};

Text bold(std::string says);

/// With a capital at its beginning.
std::string capital(std::string words);
/// "1 customer", "3 customers".
std::string counted(std::size_t n, std::string_view one, std::string_view many);
/// The parts that are not empty, with `between` them.
std::string joined(const std::vector<std::string>& parts, std::string_view between);
/// "a, b and c".
std::string listed(const std::vector<std::string>& words);

enum class Align { left, centre, right };

/// Sizes are points. Body is what a crew reads at arm's length; fine is the least that survives a
/// photocopy.
namespace size {
inline constexpr double title = 17.0, subtitle = 13.0, big = 26.0, heading = 11.5, body = 11.0,
                        table = 10.0, fine = 9.0;
}

struct Type {
  double size = size::body;
  Align align = Align::left;
  bool white = false;  ///< on a black ground
};
inline constexpr Type body_type{size::body}, fine_type{size::fine}, table_type{size::table};

}  // namespace bellhole::sheets
