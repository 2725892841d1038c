#include "engine/document/plain_text.h"

#include <catch2/catch.hpp>
#include <string>

using namespace pontata;

TEST_CASE("words in any script are plain text") {
  CHECK(is_plain_text(""));
  CHECK(is_plain_text("vault 3"));
  CHECK(is_plain_text("Müller, vôlta, свод, 拱"));
  CHECK(is_plain_text("\xf0\x9f\x8e\xa8"));
}

// RFC 3629, sections 3 and 10: overlong forms, surrogates, stray and missing continuation bytes, beyond U+10FFFF.
TEST_CASE("malformed UTF-8 is not plain text") {
  for (const std::string bad :
       {"\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\x80", "a\xc3", "\xf4\x90\x80\x80", "\xff", "\xc3("})
    CHECK_FALSE(is_plain_text(bad));
}

TEST_CASE("control characters are not plain text") {
  CHECK_FALSE(is_plain_text("two\nlines"));
  CHECK_FALSE(is_plain_text("\x1b[2J"));
  CHECK_FALSE(is_plain_text("\x7f"));
  CHECK_FALSE(is_plain_text("\xc2\x85"));
  CHECK_FALSE(is_plain_text(std::string("a\0b", 3)));
}
