// Writing a network document: one column a line, so that two maps can be compared with ordinary
// tools.
#include <fmt/format.h>

#include <cmath>

#include "network/words.hpp"
#include "wire/json.hpp"
#include "wire/network_file.hpp"
#include "wire/network_shape.hpp"

namespace bellhole::wire {
namespace {

using network::Index;
using network::Ternary;

class Writer {
 public:
  std::string out;

  void begin() {
    out = fmt::format("{{\n\"document\": \"{}\",\n\"version\": {}", network_document,
                      network_version);
  }
  void end() { out += "\n}\n"; }

  void head(std::string_view key, const std::string& value) {
    head_key(key);
    put(value);
  }
  void head(std::string_view key, AbsolutePressure pressure, Temperature temperature) {
    head_key(key);
    out += "{\"pa_abs\": ";
    put(pressure.si());
    out += ", \"k\": ";
    put(temperature.si());
    out += '}';
  }
  template <class Kind>
  void head(std::string_view key, Quantity<Kind> value) {
    head_key(std::string(key) + std::string(Kind::suffix));
    put(value.si());
  }

  template <class Columns>
  void table(std::string_view name, const std::vector<std::string>& ids, const Columns& columns) {
    open(name);
    text("id", ids);
    columns();
    out += '}';
  }
  template <class Columns>
  void rows(std::string_view name, std::string_view, const Columns& columns) {
    open(name);
    columns();
    out += '}';
  }

  void text(std::string_view key, const std::vector<std::string>& values) {
    column(key, values.size(), [&](std::size_t i) { put(values[i]); });
  }
  void number(std::string_view key, const std::vector<double>& values, Need, Bounds) {
    column(key, values.size(), [&](std::size_t i) { put(values[i]); });
  }
  template <class Kind>
  void quantity(std::string_view key, const std::vector<Quantity<Kind>>& values, Need, Bounds) {
    column(std::string(key) + std::string(Kind::suffix), values.size(),
           [&](std::size_t i) { put(values[i].si()); });
  }
  void year(std::string_view key, const std::vector<std::int16_t>& values) {
    column(key, values.size(), [&](std::size_t i) {
      if (values[i] == 0) {
        out += "null";
      } else {
        fmt::format_to(std::back_inserter(out), "{}", values[i]);
      }
    });
  }
  template <class E>
  void word(std::string_view key, const std::vector<E>& values) {
    column(key, values.size(), [&](std::size_t i) { put(network::word(values[i])); });
  }
  void ternary(std::string_view key, const std::vector<Ternary>& values) {
    column(key, values.size(), [&](std::size_t i) { put(values[i]); });
  }
  template <class Row>
  void ternary(std::string_view key, const std::vector<Row>& values, Ternary Row::* member) {
    column(key, values.size(), [&](std::size_t i) { put(values[i].*member); });
  }
  void flag(std::string_view key, const std::vector<std::uint8_t>& values) {
    column(key, values.size(), [&](std::size_t i) { out += values[i] != 0 ? "true" : "false"; });
  }
  void reference(std::string_view key, const std::vector<Index>& values, std::string_view,
                 const std::vector<std::string>& ids, Need) {
    column(key, values.size(), [&](std::size_t i) {
      if (values[i] == network::none) {
        out += "null";
      } else {
        put(ids[static_cast<std::size_t>(values[i])]);
      }
    });
  }
  void day(std::string_view key, const std::vector<std::array<double, 24>>& values) {
    column(key, values.size(),
           [&](std::size_t i) { list(24, [&](std::size_t hour) { put(values[i][hour]); }); });
  }
  void lines(std::string_view key, const std::vector<std::int32_t>& first,
             const std::vector<double>& vx, const std::vector<double>& vy) {
    column(key, first.empty() ? 0 : first.size() - 1, [&](std::size_t i) {
      const auto from = static_cast<std::size_t>(first[i]);
      const auto count = 2 * (static_cast<std::size_t>(first[i + 1]) - from);
      list(count, [&](std::size_t k) { put(k % 2 == 0 ? vx[from + k / 2] : vy[from + k / 2]); });
    });
  }
  void lines(std::string_view key, const std::vector<std::int32_t>& first,
             const std::vector<double>& vx, const std::vector<double>& vy, const network::Pipes*,
             const network::Nodes*) {
    lines(key, first, vx, vy);
  }

 private:
  void head_key(std::string_view key) {
    fmt::format_to(std::back_inserter(out), ",\n\"{}\": ", key);
  }
  void open(std::string_view name) {
    head_key(name);
    out += '{';
    first_column_ = true;
  }
  template <class Put>
  void list(std::size_t count, const Put& put_one) {
    out += '[';
    for (std::size_t i = 0; i < count; ++i) {
      if (i > 0) out += ',';
      put_one(i);
    }
    out += ']';
  }
  template <class Put>
  void column(std::string_view key, std::size_t count, const Put& put_one) {
    fmt::format_to(std::back_inserter(out), "{}\n  \"{}\": ", first_column_ ? "" : ",", key);
    first_column_ = false;
    list(count, put_one);
  }

  void put(double number) {
    if (!std::isfinite(number)) {
      out += "null";
    } else if (number == 0.0) {
      out += '0';  // one zero only, or -0 would not read back
    } else {
      fmt::format_to(std::back_inserter(out), "{}", number);
    }
  }
  void put(Ternary value) {
    out += value == Ternary::unknown ? "null" : value == Ternary::yes ? "true" : "false";
  }
  void put(std::string_view text) {
    out += '"';
    for (const char c : text) {
      if (c == '"' || c == '\\') {
        out += '\\';
        out += c;
      } else if (static_cast<unsigned char>(c) < 0x20) {
        fmt::format_to(std::back_inserter(out), "\\u{:04x}", static_cast<int>(c));
      } else {
        out += c;
      }
    }
    out += '"';
  }

  bool first_column_ = true;
};

}  // namespace

std::string write_network(const network::Network& network) {
  Writer writer;
  writer.begin();
  describe(writer, network);
  writer.end();
  return std::move(writer.out);
}

std::string network_hash(const network::Network& network) { return sha256(write_network(network)); }

}  // namespace bellhole::wire
