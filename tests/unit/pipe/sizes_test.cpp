#include "pipe/sizes.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::pipe {
namespace {

std::string name_of(std::string_view text) {
  const auto size = read_size(text, "--size");
  return size ? size->name : std::string("trouble: ") + std::string(to_string(size.error().code));
}

Trouble refusal(std::string_view text) {
  const auto size = read_size(text, "--size");
  EXPECT_FALSE(size) << text;
  return size ? Trouble{} : size.error();
}

TEST(SizeText, IsReadAsPeopleWriteIt) {
  for (const char* text :
       {"IPS 8", "8 IPS", "8in IPS", "8\" ips", "ips-8", "IPS8", "IPS 8in", "8.0 IPS"}) {
    EXPECT_EQ(name_of(text), "IPS 8") << text;
  }
  for (const char* text : {"IPS 1-1/4", "IPS 1 1/4", "1-1/4 IPS", "1.25in IPS", "IPS 1-1/4\""}) {
    EXPECT_EQ(name_of(text), "IPS 1-1/4") << text;
  }
  for (const char* text : {"CTS 1/2", "1/2 CTS", "0.5 cts", "1/2in CTS"})
    EXPECT_EQ(name_of(text), "CTS 1/2") << text;
  for (const char* text : {"dn125", "dn 125", "DN 125", "dn125mm", "125mm dn"})
    EXPECT_EQ(name_of(text), "dn 125") << text;
}

TEST(SizeText, WithoutASystemIsAskedBack) {
  const Trouble inch = refusal("8in");
  EXPECT_EQ(inch.code, Code::missing_value);
  EXPECT_EQ(inch.fix, "say which: IPS 8 (8.625 in outside)");
  EXPECT_EQ(refusal("1in").fix, "say which: IPS 1 (1.315 in outside) or CTS 1 (1.125 in outside)");
  EXPECT_EQ(refusal("125mm").fix, "say which: dn 125 (125 mm outside)");
  EXPECT_EQ(refusal("20").fix, "say which: IPS 20 (20.000 in outside) or dn 20 (20 mm outside)");
  EXPECT_EQ(refusal("7").code, Code::missing_value);
}

TEST(SizeText, UnknownSizesNameTheNearest) {
  const Trouble t = refusal("IPS 5");
  EXPECT_EQ(t.code, Code::unknown_size);
  EXPECT_EQ(t.where, "--size");
  EXPECT_NE(t.fix.find("IPS 4"), std::string::npos);
  EXPECT_NE(t.fix.find("IPS 6"), std::string::npos);
  EXPECT_NE(refusal("dn 120").fix.find("dn 125"), std::string::npos);
  EXPECT_EQ(refusal("CTS 4").code, Code::unknown_size);
}

TEST(SizeText, NonsenseIsRefused) {
  for (const char* text :
       {"", "IPS", "big", "IPS CTS 1", "IPS 1 2", "IPS 1/0", "IPS -", "-8 IPS", "IPS 8 DR 11",
        "IPS 8 8", "1/2/3 IPS", "dn 12.5.5", "NPS 8", "IPS 8in mm"}) {
    const Trouble t = refusal(text);
    EXPECT_EQ(t.code, Code::unreadable_value) << text;
  }
  EXPECT_EQ(refusal("IPS 100mm").code, Code::contradiction);
  EXPECT_EQ(refusal("dn 4in").code, Code::contradiction);
}

TEST(Sizes, EveryNameReadsBackAsItself) {
  for (const Size& size : sizes()) {
    EXPECT_EQ(name_of(size.name), size.name);
    EXPECT_GT(size.od.si(), 0.0);
    EXPECT_FALSE(size.source.empty());
    if (size.od_low && size.od_high) {
      EXPECT_LE(*size.od_low, size.od);
      EXPECT_GE(*size.od_high, size.od);
    }
  }
}

RC_GTEST_PROP(SizeText, NeverReadsAnythingButASizeOnRecord, ()) {
  const auto text = *rc::gen::container<std::string>(
      rc::gen::elementOf(std::string("IPSCTSdn 0123456789./-in\"m")));
  const auto size = read_size(text, "--size");
  if (size) RC_ASSERT(name_of(size->name) == size->name);
}

}  // namespace
}  // namespace bellhole::pipe
