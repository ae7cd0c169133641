// Tables of text from loggers and spreadsheets: whatever bytes come in are rows of finite values in
// one style of time, or trouble that says where and what to do.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "wire/relight.hpp"
#include "wire/text_table.hpp"

namespace {

using namespace bellhole;

void must(bool holds) {
  if (!holds) std::abort();
}

void must_help(const Trouble& trouble) { must(!trouble.fix.empty() && !trouble.where.empty()); }

template <class Quantity>
void must_be_finite(const Result<Quantity>& read) {
  if (read) {
    must(std::isfinite(read->si()));
  } else {
    must_help(read.error());
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(data), size};
  if (const auto shut = wire::read_shut_list(std::string(text))) {
    for (const wire::ListedMeter& meter : *shut) must(!meter.row.id.empty());
  } else {
    must_help(shut.error());
  }
  const auto table = wire::read_table(
      text, "table", {{{"time", "t"}}, {{"gap"}}, {{"pump", "pump pressure", "pressure"}, false}});
  if (!table) {
    must_help(table.error());
    return 0;
  }
  wire::Moments moments;
  wire::OneUnit gaps;
  for (const wire::TextRow& row : table->rows) {
    must(row.cells.size() == 3 && row.cells[0] && row.cells[1]);
    must_be_finite(moments.read(*row.cells[0], table->units[0], row.where));
    must_be_finite(wire::read_cell<kinds::Length>(*row.cells[1], table->units[1], row.where));
    if (const auto same = gaps.hold(*row.cells[1], row.where); !same) must_help(same.error());
    if (row.cells[2])
      must_be_finite(
          wire::read_cell<kinds::GaugePressure>(*row.cells[2], table->units[2], row.where));
  }
  return 0;
}
