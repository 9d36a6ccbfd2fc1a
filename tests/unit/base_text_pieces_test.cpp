#include "base/text_pieces.hpp"

#include <array>
#include <random>
#include <utility>

#include "aeruca/errors.hpp"
#include "base/utf16_pieces.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;

namespace {

std::string joined(detail::TextPieces& pieces, std::size_t& count) {
  std::string whole;
  count = 0;
  for (std::string_view piece = pieces.next(); !piece.empty(); piece = pieces.next()) {
    const bool last = whole.size() + piece.size() == pieces.size();
    CHECK((piece.back() == '\n' || last));
    whole += piece;
    ++count;
  }
  return whole;
}

std::string lines(std::size_t count, std::size_t length) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i)
    text += std::string(length + i % 7, static_cast<char>('a' + i % 26)) + "\n";
  return text;
}

}  // namespace

TEST_CASE("pieces of a text end where lines do and make up the whole") {
  for (const std::string& text :
       {std::string(), std::string("one line"), std::string("one line\n"), lines(60'000, 30),
        lines(60'000, 30) + "and no end", std::string(700'000, 'x') + "\nshort\n",
        std::string(1 << 18, 'x'), std::string((1 << 18) - 1, 'x') + "\n" + "y"}) {
    std::size_t count = 0;
    detail::MemoryPieces memory(text);
    CHECK(joined(memory, count) == text);
    CHECK(memory.size() == text.size());
    const aeruca_test::OwnFolder folder;
    detail::FilePieces file(folder.write("pieces.txt", text));
    CHECK(joined(file, count) == text);
    CHECK(file.size() == text.size());
  }
  std::size_t count = 0;
  const std::string text = lines(60'000, 30);
  detail::MemoryPieces memory(text);
  static_cast<void>(joined(memory, count));
  CHECK(count > 5);
}

TEST_CASE("a file that cannot be read in pieces is refused as a whole one is") {
  CHECK_THROWS_WITH(detail::FilePieces("/no/such/file.csv"),
                    "/no/such/file.csv: cannot be opened; a readable file is wanted");
  CHECK_THROWS_WITH(detail::FilePieces("/"), "/: is a directory; a file is wanted");
  const aeruca_test::OwnFolder folder;
  const std::string utf16 = folder.write("utf16.txt", std::string_view("\xFF\xFEt\0", 4));
  CHECK_THROWS_WITH(detail::FilePieces(utf16),
                    test::contains("the file is UTF-16; save it as UTF-8"));
  detail::FilePieces pieces(
      folder.write("endless.txt", std::string((std::size_t{1} << 26) + 1, 'x')));
  CHECK_THROWS_WITH(pieces.next(),
                    test::contains("has a line longer than the accepted 67108864 bytes"));
}

TEST_CASE("a line that is no UTF-8 is read by the code page of Western Europe, the others stay") {
  const auto read = [](const std::string& text) {
    detail::MemoryPieces raw(text);
    detail::Utf8Pieces pieces(raw);
    std::string found;
    for (std::string_view piece = pieces.next(); !piece.empty(); piece = pieces.next())
      found += piece;
    return found;
  };
  CHECK(read("T (\xB0\x43);Gr\xF6\xDF\x65 \x80\nT (\xC2\xB0\x43)\n") ==
        "T (\xC2\xB0\x43);Gr\xC3\xB6\xC3\x9F\x65 \xE2\x82\xAC\nT (\xC2\xB0\x43)\n");
  CHECK(read("\x81") == "\xEF\xBF\xBD");
  const std::string plain(200, 'x');
  for (const char* bad : {"\xC0\xAF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xC3",
                          "\xF0\x9F\x8C", "\xFF"}) {
    const std::string found = read(plain + bad + plain);
    CHECK(found != plain + bad + plain);
    CHECK(found.size() > 400);
  }
  for (const char* good : {"\xC3\xA4", "\xE2\x82\xAC", "\xF0\x9F\x8C\xA7", "\xED\x9F\xBF"})
    CHECK(read(plain + good + plain) == plain + good + plain);
}

TEST_CASE("text in UTF-16 is the same in UTF-8, whatever letters stand in a block") {
  std::mt19937 random(5);
  const std::array<std::pair<std::string, std::u16string>, 5> letters{
      {{"a", u"a"},
       {"\xC3\xA4", u"\u00E4"},
       {"\xE2\x84\x83", u"\u2103"},
       {"\xF0\x9F\x8C\xA7", u"\xD83C\xDF27"},
       {"\n", u"\n"}}};
  for (const bool low_first : {true, false}) {
    for (int k = 0; k < 300; ++k) {
      std::string wanted;
      std::u16string units;
      for (int i = 0; i < 400; ++i) {
        const std::size_t rare = random() % 40;
        const auto& [narrow, wide] = letters[rare < letters.size() ? rare : 0];
        wanted += narrow;
        units += wide;
      }
      std::string bytes = low_first ? "\xFF\xFE" : "\xFE\xFF";
      for (const char16_t unit : units) {
        const auto low = static_cast<char>(unit & 0xFFU);
        const auto high = static_cast<char>(unit >> 8U);
        bytes += low_first ? low : high;
        bytes += low_first ? high : low;
      }
      detail::MemoryPieces raw(bytes);
      detail::Utf8Pieces pieces(raw);
      std::string found;
      for (std::string_view piece = pieces.next(); !piece.empty(); piece = pieces.next())
        found += piece;
      CHECK(found == wanted);
    }
  }
}
