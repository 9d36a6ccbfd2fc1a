#include <cmath>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "base/toml_text.hpp"
#include "catch.hpp"
#include "dataset/records.hpp"
#include "own_folder.hpp"

using namespace aeruca;
using aeruca::test::contains;
using aeruca_test::OwnFolder;

namespace {

std::shared_ptr<const Dataset> extended(const std::string& text) {
  const OwnFolder folder;
  return extend_dataset(*default_dataset(), folder.write("own.toml", text));
}

std::string reaction(const std::string& lines) {
  return "[[reaction]]\nid = \"Q1\"\nequation = \"nantokite = Cu(+) + Cl(-)\"\nquantity = "
         "\"log10_k\"\nvalue = -6.7\n"
         "source = \"wang1997\"\nbasis = \"memory\"\n" +
         lines;
}

struct BadFile {
  std::string text;
  std::string message;
};

const std::string kSpecies = "[[species]]\nname = \"new\"\ntitle = \"new\"\n";
const std::string kOnset =
    "[[onset]]\nid = \"own\"\ntitle = \"own\"\nsource = \"scott1990\"\nbasis = \"memory\"\n";
const std::string kFitted =
    "[[pitzer]]\nid = \"Na-Cl:mine\"\ncation = \"Na(+)\"\nanion = \"Cl(-)\"\nbeta0 = 0.07\nsource "
    "= \"aeruca\"\nbasis = \"derived\"\n";
const std::string kSit = "[[sit]]\ncation = \"Na(+)\"\nanion = \"Cl(-)\"\nsource = \"grenthe\"\n";

const std::string kBathSalt =
    "[[bath_salt]]\nname = \"brine\"\nformula = \"NaCl\"\nbasis = \"memory\"\nsource = "
    "\"textbook\"\n";
const std::string kDissolves = "dissolves = \"NaCl = Na(+) + Cl(-)\"\n";
const std::string kBathForm =
    "[[bath_reagent]]\nname = \"rock salt\"\nformula = \"NaCl\"\n[[bath_form]]\nid = "
    "\"brine\"\nsalt = \"brine\"\nname = \"rock salt\"\nreagents = ";
const std::vector<BadFile> kBadFiles{
    {"a = [", "this is not TOML"},
    {"# \xC2\xB7\nversion = \"\xC2\xB7\"\n\xC2\xB7",
     "line 3: a letter or sign beyond plain ASCII outside quotes"},
    {"version = \"\"\"\n\\\xC2\xB7\"\"\"", "line 2: a backslash before a letter"},
    {"version = \"\"\"\\\n \xEF\xB2\xBF\"\"\"", "line 1: a backslash before a letter"},
    {"[[[a]]]", "line 1: a table header without a name"},
    {"version = 0\"\xC6\x9C\"\n", "line 1: a quote within a word or number"},
    {"version = 12:\"\xC6\x9C\"\n", "line 1: a quote within a word or number"},
    {"version = 1.\"\xC6\x9C\"\n", "line 1: a quote within a word or number"},
    {"version = [+['\xD0\xAA']]\n", "line 1: a bracket within a word or number"},
    {"version = [1, 2{'\xD0\xAA'}]\n", "line 1: a bracket within a word or number"},
    {"version = [39=['\xD0\xAA']]\n", "line 1: a second equals sign"},
    {"version = 1 =['\xD0\xAA']\n", "line 1: a second equals sign"},
    {"version = {a = 1, b = 2=['\xD0\xAA']}\n", "line 1: a second equals sign"},
    {"version = [[1,\n}]]\n", "line 2: a bracket closes one of another kind"},
    {"version = { a = [1, 2}\n", "line 1: a bracket closes one of another kind"},
    {"version = [\n[[1]],\n]\n", "version: no such table"},
    {"[[reactoin]]\nid = \"x\"\n", "line 1, reactoin: no such table; nearest is 'reaction'"},
    {"reaction = 3\n", "reaction: no such field"},
    {reaction("uncertianty = 0.1\n"),
     "uncertianty of reaction 'Q1': no such field; nearest is 'uncertainty'"},
    {reaction("uncertainty = -0.1\n"),
     "line 8, uncertainty of reaction 'Q1': -0.1 is out of range, accepted is 0 to 10000"},
    {reaction("uncertainty = \"small\"\n"), "is a text, accepted is a number"},
    {reaction("chosen = 1\n"), "is a number, accepted is true or false"},
    {reaction("unit = \"kJ\"\n"), "'kJ' is not the unit of this quantity, accepted is 1"},
    {reaction("chosen = true\n"),
     "'C01' is chosen for the log10_k of nantokite = Cu(+) + Cl(-) already"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"A = B\"\nquantity = \"energy\"\n",
     "accepted is log10_k, enthalpy, heat_capacity"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokite = Cu(+)\"\nquantity = \"log10_k\"\nvalue = "
     "1\nsource = \"wang1997\"\nbasis = \"memory\"\n",
     "does not balance: Cl by -1"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"Cu(2+) = Cu(+)\"\nquantity = \"log10_k\"\nvalue = "
     "1\nsource = \"wang1997\"\nbasis = \"memory\"\n",
     "does not balance: charge by -1"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokit = Cu(+) + Cl(-)\"\nquantity = "
     "\"log10_k\"\nvalue = 1\nsource = \"wang1997\"\nbasis = \"memory\"\n",
     "no species 'nantokit'; nearest is 'nantokite'"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokite -> Cu(+)\"\nquantity = \"log10_k\"\nvalue "
     "= 1\nsource = \"wang1997\"\nbasis = \"memory\"\n",
     "with ' + ' between terms and one ' = '"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokite = Cu(+) + Cl(-)\"\nquantity = "
     "\"log10_k\"\nvalue = nan\nsource = \"wang1997\"\nbasis = \"memory\"\n",
     "is not finite"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokite = Cu(+) + Cl(-)\"\nquantity = "
     "\"log10_k\"\nvalue = 1\nsource = \"wang1979\"\nbasis = \"memory\"\n",
     "source of reaction 'Q1': no entry 'wang1979' in the bibliography; nearest is 'wang1997'"},
    {"[[reaction]]\nid = \"Q1\"\nequation = \"nantokite = Cu(+) + Cl(-)\"\nquantity = "
     "\"log10_k\"\nvalue = 1\nsource = \"wang1997\"\nbasis = \"seen\"\n",
     "'seen' is not known, accepted is looked-up, memory, derived or "
     "estimated"},
    {reaction("") + reaction(""), "'Q1' is there twice, first in"},
    {kSpecies + "formula = \"Xx\"\nconstant_from = \"none\"\n",
     "formula of species 'new': formula = 'Xx': accepted is a chemical formula"},
    {kSpecies + "formula = \"CuCl\"\nconstant_from = \"R99\"\n", "no reaction 'R99'"},
    {kSpecies + "formula = \"CuCl\"\nconstant_from = \"C01\"\n",
     "reaction 'C01' does not hold the species"},
    {kSpecies + "formula = \"CuCl\"\nconstant_from = \"salt\"\n",
     "no salt of that name has an ln_k"},
    {kSpecies + "formula = \"CuCl\"\nconstant_from = \"none\"\ncolour = \"green\"\n",
     "accepted is words and #rrggbb"},
    {kSpecies + "formula = \"CuCl\"\nconstant_from = \"energies\"\n", "formation of species 'new'"},
    {kOnset + "low_rh_percent = 120\n", "120 is out of range, accepted is 0 to 100"},
    {kOnset + "low_rh_percent = 40\nhigh_rh_percent = 30\n",
     "30 is out of range, accepted is 40 to 100"},
    {kSit + "value = 0.03\n", "basis of sit 'Na(+) Cl(-)': is missing or empty"},
    {"[[pitzer]]\nid = \"Na-Cl:mine\"\ncation = \"Na(+)\"\nanion = \"Cl(-)\"\nbeta0 = 0.07\nsource "
     "= \"aeruca\"\nbasis = \"derived\"\nchosen = true\n",
     "is chosen for Na(+) with Cl(-) already"},
    {kFitted + "fitted = [\"beta0_per_k\"]\ncovariance = [1e-8]\n",
     "names beta0_per_k, which has no value in the record"},
    {kFitted + "fitted = [\"beta\"]\ncovariance = [1e-8]\n", "'beta' is no parameter of a set"},
    {kFitted + "fitted = [\"beta0\"]\ncovariance = [1e-8, 2e-8]\n", "accepted are 1 numbers"},
    {kFitted + "fitted = [\"beta0\"]\ncovariance = [-1e-8]\n", "accepted are variances of 0"},
    {kFitted + "fitted = [\"beta0\", \"c_phi\"]\nc_phi = 0.1\ncovariance = [1, 2, 1]\n",
     "correlations of -1 to 1"},
    {kFitted + "fitted = [\"beta0\"]\ncovariance = [\"x\"]\n", "accepted are finite numbers"},
    {"[[mixing]]\ntype = \"psi\"\nspecies = [\"Na(+)\", \"K(+)\"]\nvalue = 0\nsource = "
     "\"aeruca\"\nbasis = \"derived\"\n",
     "accepted are 3 names for a psi"},
    {kBathSalt + "dissolves = \"NaCl = Na(+)\"\n",
     "dissolves of bath_salt 'brine': is off by -1 Cl, accepted is an equation that balances"},
    {kBathSalt + kDissolves + "saturated_with = \"halit\"\n" + kBathForm + "[\"rock salt\"]\n",
     "saturated_with of bath_salt 'brine': no salt 'halit'"},
    {kBathSalt + kDissolves + "cautions = [\"sharp\"]\n" + kBathForm + "[\"rock salt\"]\n",
     "cautions of bath_salt 'brine': no bath_caution 'sharp'"},
    {kBathSalt + kDissolves, "bath_salt 'brine': has no bath_form, accepted is one or more"},
    {kBathSalt + kDissolves + "also = [\"lye\"]\n" + kBathForm + "[\"rock salt\"]\n",
     "also of bath_salt 'brine': 'lye' means sodium hydroxide already"},
    {kBathSalt + kDissolves + kBathForm + "[\"sodium hydroxide\"]\n",
     "reagents of bath_form 'rock salt' of brine: make -1 Cl more than the salt"},
    {kBathSalt + kDissolves + kBathForm + "[\"sand\"]\n", "no bath_reagent 'sand'"},
    {"[[salt]]\nsolid = \"table salt\"\nformula = \"NaCl\"\nanhydrous = \"NaCl\"\ndissolves_to = "
     "\"Na(+)\"\n",
     "ions and water do not add up to NaCl: Cl by -1"},
    {"[[salt]]\nsolid = \"table salt\"\nformula = \"NaCl\"\nanhydrous = \"NaCl\"\ndissolves_to = "
     "\"Na(+) + Cl(-)\"\nsolubility = { at = [[0, 6.1], [0, 6.2]], source = \"crc\", basis = "
     "\"memory\" }\n",
     "at of solubility of salt 'table salt': accepted are rising temperatures"},
    {"[[humidity]]\nid = \"h\"\nsolid = \"halite\"\nequilibrium = \"deliquesence\"\n",
     "accepted is one of deliquescence, hydration, mutual, crystallisation"},
    {"[[humidity]]\nid = \"h\"\nsolid = \"halite\"\nequilibrium = \"deliquescence\"\nkind = "
     "\"measured\"\ntemperature_c = 20\n"
     "rh_percent = 75\nsource = \"aeruca\"\nbasis = \"memory\"\ndoubtful = true\n",
     "accepted is why the figure is doubtful"},
};

}  // namespace

TEST_CASE("a letter beyond ASCII may stand behind a sign that a backslash writes") {
  CHECK_NOTHROW(detail::refuse_broken_toml("own.toml", "a = \"1\\n\xC3\xA9 \\\\ \xC3\xA9\"\n"));
}

TEST_CASE("a bad data file is refused with file, record, field and what is accepted") {
  for (const BadFile& bad : kBadFiles) {
    INFO(bad.text);
    CHECK_THROWS_AS(extended(bad.text), FileError);
    CHECK_THROWS_WITH(extended(bad.text), contains(bad.message));
    CHECK_THROWS_WITH(extended(bad.text), contains("own.toml"));
  }
}

TEST_CASE("a constant off its cycle is refused unless the tolerance says otherwise") {
  const std::string off =
      "[[reaction]]\nid = \"C01\"\nequation = \"nantokite = Cu(+) + Cl(-)\"\nquantity = "
      "\"log10_k\"\n"
      "value = -7.5\nuncertainty = 0.01\nsource = \"wang1997\"\nbasis = \"memory\"\nchosen = "
      "true\n";
  CHECK_THROWS_WITH(extended(off), contains("is off the cycle"));
  const auto tolerant = extended("closure_tolerance = 5\n\n" + off);
  CHECK(tolerant->at("nantokite").log10_k > default_dataset()->at("nantokite").log10_k + 0.7);
  CHECK(default_dataset()->figure("C01").value == -6.73);
}

// C14 is the sum of C01 and C05: 5.51, with 0.05, 0.06 and its own 0.08 the difference may be 0.34.
TEST_CASE("a constant five uncertainties off its cycle is refused, one and a half are borne") {
  const auto with = [](const std::string& value) {
    return "[[reaction]]\nid = \"C14\"\nequation = \"Cu(+) + 2 Cl(-) = CuCl2(-)\"\nquantity = "
           "\"log10_k\"\nvalue = " +
           value +
           "\nuncertainty = 0.08\nsource = \"wang1997\"\nbasis = \"memory\"\nchosen = true\n";
  };
  CHECK_THROWS_WITH(extended(with("6.08")),
                    contains("the reduced constants give 5.51, accepted is a difference of 0.335"));
  CHECK(extended(with("5.69"))->figure("C14").value == 5.69);
}

TEST_CASE("an extension adds and replaces and changes the content hash") {
  const auto own = extended("[[source]]\nkey = \"own2026\"\ntext = \"own\"\n\n" + kOnset +
                            "low_rh_percent = 38\nhigh_rh_percent = 40\n");
  CHECK(own->onset_band("own").low_rh_percent == 38);
  CHECK(own->source("own2026").text == "own");
  CHECK(own->content_hash != default_dataset()->content_hash);
  CHECK(own->species.size() == default_dataset()->species.size());
  CHECK_THROWS_AS(extend_dataset(Dataset{}, "own.toml"), InputError);
  CHECK_THROWS_AS(extend_dataset(*default_dataset(), "/no/such/file.toml"), FileError);
}

// Where no derivative is known the figure stays that of 25 C, and a set says so; a curvature that no
// one gave is none.
TEST_CASE("of a Pitzer set a derivative not given is not known, a second derivative zero") {
  const auto own = extended(
      "[[pitzer]]\nid = \"own\"\ncation = \"Na(+)\"\nanion = \"Cl(-)\"\nbeta0 = 0.07\n"
      "beta0_per_k = 1e-4\nsource = \"aeruca\"\nbasis = \"derived\"\n");
  const PitzerBinary& set = own->pitzer.back();
  REQUIRE(set.id == "own");
  CHECK(set.beta0_per_k == 1e-4);
  CHECK(set.beta0_per_k2 == 0);
  CHECK(std::isnan(set.beta1_per_k));
  CHECK(set.beta1 == 0);
}

TEST_CASE("a directory is read whole or refused") {
  const OwnFolder folder;
  CHECK_THROWS_WITH(load_dataset(folder.string()), contains("holds no data files"));
  CHECK_THROWS_WITH(load_dataset("/no/such/directory"), contains("cannot be read as a directory"));
  folder.write("a.toml", "conditions = \"25 C\"\n");
  CHECK_THROWS_WITH(load_dataset(folder.string()), contains("names no version"));
  folder.write("a.toml", "version = \"1\"\n");
  CHECK(load_dataset(folder.string())->species.empty());
  folder.write("s.bib", "@article{a, title = {one}}\n@article{a, title = {two}}\n");
  CHECK_THROWS_WITH(load_dataset(folder.string()),
                    contains("s.bib, line 2, source: 'a' is there twice, first in s.bib, line 1"));
  folder.write("s.bib", "@article{a, title = {never closed}\n");
  CHECK_THROWS_WITH(load_dataset(folder.string()), contains("expected '}'"));
  folder.write("s.bib", "@article{a, title = {never closed\n");
  CHECK_THROWS_WITH(load_dataset(folder.string()), contains("no closing brace or quote"));
  folder.write("s.bib", "@article{a, year = {}}\n");
  CHECK_THROWS_WITH(load_dataset(folder.string()), contains("says nothing"));
}

TEST_CASE("the bibliography is read in braces, quotes and bare, and printed in one line") {
  detail::Records records;
  detail::read_bibliography(
      records, "s.bib",
      "Words between entries.\n@article{key-1, author = {Ann, A. and Bob, B.}, year = 1990,\n"
      " title = \"A {Cu} title\", journal = {J. Test}, volume = {7}, pages = 1, doi = {10.1/x},}\n",
      0);
  REQUIRE(records.sources.entries().size() == 1);
  const Source& source = records.sources.entries().front().value;
  CHECK(source.key == "key-1");
  CHECK(source.text == "Ann, A.; Bob, B. 1990, A Cu title, J. Test 7, 1");
  CHECK(source.doi == "10.1/x");
}

TEST_CASE("equations are read term by term") {
  const detail::Terms terms =
      detail::parse_equation("2 Cu(2+) + 1.5 H2O = copper carbonate + O2(g)");
  REQUIRE(terms.size() == 4);
  CHECK(terms[0].second == -2);
  CHECK(terms[1].second == -1.5);
  CHECK(terms[2].first == "copper carbonate");
  CHECK(terms[2].second == 1);
  for (const char* bad :
       {"A", "A = B = C", "A + A = B", "A +  + B = C", "-2 A = B", "0 A = B", " = B", "A + = B",
        "A = + B", "A = + + B", "2 + = B", "= = B", "A = = B", "A = B ="})
    CHECK_THROWS_AS(detail::parse_equation(bad), InputError);
}
