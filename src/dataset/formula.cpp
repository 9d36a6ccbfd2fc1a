#include <algorithm>
#include <array>
#include <cctype>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

struct AtomicWeight {
  std::string_view symbol;
  double g_per_mol;
};

// Abridged standard atomic weights, CIAAW 2021 (Prohaska et al. 2022, Pure Appl. Chem. 94, 573).
constexpr std::array kAtomicWeights{
    AtomicWeight{"H", 1.0080},  AtomicWeight{"Li", 6.94},   AtomicWeight{"B", 10.81},
    AtomicWeight{"C", 12.011},  AtomicWeight{"N", 14.007},  AtomicWeight{"O", 15.999},
    AtomicWeight{"F", 18.998},  AtomicWeight{"Na", 22.990}, AtomicWeight{"Mg", 24.305},
    AtomicWeight{"Al", 26.982}, AtomicWeight{"Si", 28.085}, AtomicWeight{"P", 30.974},
    AtomicWeight{"S", 32.06},   AtomicWeight{"Cl", 35.45},  AtomicWeight{"K", 39.098},
    AtomicWeight{"Ca", 40.078}, AtomicWeight{"Mn", 54.938}, AtomicWeight{"Fe", 55.845},
    AtomicWeight{"Co", 58.933}, AtomicWeight{"Ni", 58.693}, AtomicWeight{"Cu", 63.546},
    AtomicWeight{"Zn", 65.38},  AtomicWeight{"As", 74.922}, AtomicWeight{"Br", 79.904},
    AtomicWeight{"Sr", 87.62},  AtomicWeight{"Ag", 107.87}, AtomicWeight{"Cd", 112.41},
    AtomicWeight{"Sn", 118.71}, AtomicWeight{"Sb", 121.76}, AtomicWeight{"I", 126.90},
    AtomicWeight{"Cs", 132.91}, AtomicWeight{"Ba", 137.33}, AtomicWeight{"Au", 196.97},
    AtomicWeight{"Hg", 200.59}, AtomicWeight{"Pb", 207.2},
};

const AtomicWeight* find_element(std::string_view symbol) {
  for (const AtomicWeight& weight : kAtomicWeights) {
    if (weight.symbol == symbol) return &weight;
  }
  return nullptr;
}

constexpr int kMaxDepth = 8;
constexpr std::size_t kMaxLength = 200;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
bool is_lower(char c) {
  return c >= 'a' && c <= 'z';
}

// Recursive descent over   part ('.' coefficient part)* phase? charge?
class FormulaReader {
 public:
  explicit FormulaReader(std::string_view text) : text_(text) {}

  Composition read() {
    if (text_.empty() || text_.size() > kMaxLength) fail();
    if (text_ == "e(-)") return {{}, -1};
    read_part(1.0, 0);
    while (take_dot()) {
      const double coefficient = read_coefficient();
      read_part(coefficient, 0);
    }
    read_suffixes();
    if (at_ != text_.size() || result_.elements.empty()) fail();
    return std::move(result_);
  }

 private:
  [[noreturn]] void fail() const {
    throw InputError("formula", "'" + std::string(text_.substr(0, kMaxLength)) + "'",
                     "a chemical formula such as Cu2(OH)3Cl, CuCl2.2H2O or CuCl2(-)");
  }
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }

  bool take_dot() {
    if (peek() == '.' || peek() == '*') return ++at_, true;
    if (text_.substr(at_, 2) == "\xC2\xB7") return at_ += 2, true;
    return false;
  }

  // Subscripts are whole numbers; only the coefficient of a hydrate may have decimals (1.5H2O).
  double read_subscript() {
    if (!is_digit(peek())) return 1.0;
    std::size_t end = at_;
    while (end < text_.size() && is_digit(text_[end])) ++end;
    return take_number(end);
  }
  double read_coefficient() {
    if (!is_digit(peek())) return 1.0;
    std::size_t end = at_;
    while (end < text_.size() && (is_digit(text_[end]) || text_[end] == '.')) ++end;
    return take_number(end);
  }
  double take_number(std::size_t end) {
    const auto value = detail::parse_number(text_.substr(at_, end - at_));
    if (!value || *value <= 0 || *value > 1000) fail();
    at_ = end;
    return *value;
  }

  void add(std::string_view symbol, double atoms) {
    auto& elements = result_.elements;
    const auto found = std::find_if(elements.begin(), elements.end(),
                                    [&](const auto& element) { return element.first == symbol; });
    if (found == elements.end())
      elements.emplace_back(std::string(symbol), atoms);
    else
      found->second += atoms;
  }

  [[nodiscard]] bool at_group() const { return peek() == '(' && is_upper(peek(1)); }

  void read_part(double factor, int depth) {
    if (!is_upper(peek()) && !at_group()) fail();
    while (is_upper(peek()) || at_group()) {
      if (at_group())
        read_group(factor, depth);
      else
        read_element(factor);
    }
  }

  void read_element(double factor) {
    const std::size_t length = is_lower(peek(1)) ? 2 : 1;
    const std::string_view symbol = text_.substr(at_, length);
    if (find_element(symbol) == nullptr) fail();
    at_ += length;
    add(symbol, factor * read_subscript());
  }

  void read_group(double factor, int depth) {
    if (depth >= kMaxDepth) fail();
    // The subscript stands behind the group, so its end is found first.
    std::size_t close = at_ + 1;
    for (int open = 1; close < text_.size(); ++close) {
      if (text_[close] == '(') ++open;
      if (text_[close] == ')' && --open == 0) break;
    }
    if (close >= text_.size()) fail();
    const std::size_t start = at_ + 1;
    at_ = close + 1;
    const double times = read_subscript();
    const std::size_t after = at_;
    at_ = start;
    read_part(factor * times, depth + 1);
    if (at_ != close) fail();
    at_ = after;
  }

  void read_suffixes() {
    for (const std::string_view phase : {"(aq)", "(g)", "(s)", "(l)"})
      if (text_.substr(at_, phase.size()) == phase) at_ += phase.size();
    if (peek() != '(') return;
    ++at_;
    const double amount = read_subscript();
    const char sign = peek();
    if ((sign != '+' && sign != '-') || peek(1) != ')' || amount > 20) fail();
    at_ += 2;
    result_.charge = (sign == '+' ? 1 : -1) * static_cast<int>(amount);
  }

  std::string_view text_;
  std::size_t at_ = 0;
  Composition result_;
};

}  // namespace

Composition parse_formula(std::string_view formula) {
  return FormulaReader(detail::trim(formula)).read();
}

double molar_mass_g_per_mol(const Composition& composition) {
  double mass = 0;
  for (const auto& [symbol, atoms] : composition.elements) {
    const AtomicWeight* weight = find_element(symbol);
    if (weight == nullptr)
      throw InputError("element", "'" + symbol + "'",
                       "an element of the table of atomic weights (H to Pb, 35 of them)");
    mass += atoms * weight->g_per_mol;
  }
  return mass;
}

}  // namespace aeruca
