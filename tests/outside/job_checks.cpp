// Times, identifiers, hashes and codes against the texts that define them.
#include "job/clock.hpp"
#include "pipe/component.hpp"
#include "tests/outside/ledger.hpp"
#include "wire/json.hpp"

namespace bellhole {
namespace {

double unix_s(const char* text) {
  const auto read = job::read_moment(text, "t");
  return read ? static_cast<double>(read->at.ms) / 1000.0 : -1.0;
}

/// 1 where the hash of `text` begins with these digits.
double hashed(const std::string& text, const char* hex) {
  return wire::sha256(text) == hex ? 1.0 : 0.0;
}

}  // namespace

LEDGER(job) {
  using enum Evidence;
  const auto time = [&](const char* quantity, const char* text, double expected, bool independent) {
    ledger.check({.quantity = quantity,
                  .expected = expected,
                  .tolerance = 1e-3,
                  .unit = "s since 1970",
                  .source = "RFC 3339, 5.8; the same instant by GNU date",
                  .evidence = seen,
                  .independent = independent},
                 [=] { return unix_s(text); });
  };
  time("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z", 482196050.52, true);
  time("1996-12-19T16:39:57-08:00", "1996-12-19T16:39:57-08:00", 851042397.0, true);
  time("1990-12-31T23:59:60Z, a leap second, as the second after it", "1990-12-31T23:59:60Z",
       662688000.0, true);
  time("1937-01-01T12:00:27.87+00:20", "1937-01-01T12:00:27.87+00:20", -1041337172.13, true);

  ledger.check({.quantity = "time in UUIDv7 017F22E2-79B0-7CC3-98C4-DC0C0C07398F",
                .expected = 1645557742.0,
                .tolerance = 1e-3,
                .unit = "s since 1970",
                .source = "RFC 9562, appendix A.6, as public code quotes it",
                .evidence = seen,
                .independent = true},
               [] {
                 const auto at = job::time_of_uuid("017F22E2-79B0-7CC3-98C4-DC0C0C07398F");
                 return at ? static_cast<double>(at->ms) / 1000.0 : -1.0;
               });
  ledger.check({.quantity = "that UUIDv7 made from its time and random bits",
                .expected = 1,
                .tolerance = 1e-9,
                .unit = "alike",
                .source = "RFC 9562, appendix A.6, as public code quotes it",
                .evidence = seen,
                .independent = true},
               [] {
                 // rand_a = 0xCC3, rand_b = 0x18C4DC0C0C07398F; the version and variant bits are
                 // the maker's.
                 const auto made = job::uuid_v7(
                     {1645557742000}, {0x0C, 0xC3, 0x18, 0xC4, 0xDC, 0x0C, 0x0C, 0x07, 0x39, 0x8F});
                 return made == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f" ? 1.0 : 0.0;
               });

  const auto hash = [&](const char* quantity, const std::string& text, const char* hex) {
    ledger.check({.quantity = quantity,
                  .expected = 1,
                  .tolerance = 1e-9,
                  .unit = "alike",
                  .source = "FIPS 180-4 examples (NIST); the same by sha256sum",
                  .evidence = seen,
                  .independent = true},
                 [=] { return hashed(text, hex); });
  };
  hash("SHA-256 of nothing", "",
       "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  hash("SHA-256 of abc", "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  hash("SHA-256 of 448 bits", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
       "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  hash("SHA-256 of a million a", std::string(1'000'000, 'a'),
       "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");

  ledger.check({.quantity = "component code: lot 5ban",
                .expected = 1234567,
                .tolerance = 1e-6,
                .unit = "lot",
                .source = "ASTM F2897 lot example in a presentation on tracking and traceability",
                .evidence = seen,
                .independent = true},
               [] { return static_cast<double>(pipe::read_base62("5ban", "t").value_or(-1)); });
  ledger.check(
      {.quantity = "component code: date 6nm is day 245 of 2012",
       .expected = 24512,
       .tolerance = 1e-6,
       .unit = "day and year",
       .source = "1 September 2012 by the calendar, in base 62 by hand: 6 x 3844 + 23 x 62 + 22",
       .evidence = derived,
       .independent = true},
      [] { return static_cast<double>(pipe::read_base62("6nm", "t").value_or(-1)); });
}

}  // namespace bellhole
