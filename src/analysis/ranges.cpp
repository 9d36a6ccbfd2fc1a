// Ranges from draws: constants drawn, the water solved with each, the draws of every figure summed
// up.

#include "aeruca/ranges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "analysis/drawn_figures.hpp"
#include "analysis/drawn_water.hpp"
#include "base/side_by_side.hpp"
#include "base/words.hpp"
#include "uncertainty/drawn_constants.hpp"
#include "uncertainty/summary.hpp"

namespace aeruca {
namespace {

using namespace detail;

constexpr std::size_t kDrawsPerJob = 250;
constexpr std::size_t kCarriers = 3;
constexpr double kTellsFromNone = 12;  // over the number of draws: one false share in 2000
constexpr std::array<double, 5> kShares{0.025, 0.16, 0.5, 0.84, 0.975};

void check(const DrawOptions& options) {
  if (options.draws < 100 || options.draws > 100'000)
    throw InputError("draws", options.draws, "100 to 100 000");
}

// Of every species, solid and gas that the water holds.
std::vector<std::size_t> species_of(const DrawnWater& water) {
  const WaterSystem& system = water.system();
  const MovedAnswer& answer = water.answer();
  std::vector<std::size_t> found;
  const auto take = [&](const Members& members, const std::vector<double>& figures) {
    for (std::size_t i = 0; i < members.index.size(); ++i) {
      if (std::isfinite(figures[i])) found.push_back(members.index[i]);
    }
  };
  take(system.species, answer.log10_molality);
  take(system.solids, answer.saturation_index);
  take(system.gases, answer.log10_fugacity);
  return found;
}

// The draws of one doubt: every figure of the water in every draw, NaN without an answer.
struct Drawn {
  std::size_t draws = 0;
  std::vector<double> values;  // draws of each figure after the other
  std::size_t unanswered = 0;

  [[nodiscard]] std::span<const double> of(std::size_t figure) const {
    return {values.data() + figure * draws, draws};
  }
};

class Drawing {
 public:
  Drawing(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset,
          const DrawOptions& options)
      : solved_(solved), dataset_(dataset), options_(options), first_(solved, dataset) {
    ranges_.draws = options.draws;
    ranges_.seed = options.seed;
  }

  WaterRanges done() {
    if (!first_.solve(std::vector<double>(dataset_->species.size(), 0))) {
      ranges_.message = say("analysis.no_answer.ranges");
      return std::move(ranges_);
    }
    figures_ = DrawnFigures(first_.system(), first_.answer());
    const DrawnConstants constants(*dataset_, species_of(first_),
                                   solved_.water.options.temperature_c);
    const FigureDraws draws(constants, static_cast<std::size_t>(options_.draws), options_.seed);
    ranges_.exact = constants.exact();
    if (options_.spreads == Spreads::both) stated_ = drawn(constants, draws, Doubt::stated);
    published_ = drawn(constants, draws, Doubt::published);
    ranges_.unanswered_as_stated = static_cast<int>(stated_.unanswered);
    ranges_.unanswered_as_published = static_cast<int>(published_.unanswered);
    sum_up(constants, draws);
    add_chances();
    return std::move(ranges_);
  }

 private:
  Drawn drawn(const DrawnConstants& constants, const FigureDraws& draws, Doubt doubt) const {
    Drawn all;
    all.draws = draws.draws();
    all.values.assign(figures_.size() * all.draws, kNotGiven);
    std::vector<char> answered(all.draws, 0);
    const auto share = [&](std::size_t job) {
      DrawnWater water(solved_, dataset_);
      std::vector<double> off;
      std::vector<double> changes;
      const std::size_t end = std::min(all.draws, (job + 1) * kDrawsPerJob);
      for (std::size_t d = job * kDrawsPerJob; d < end; ++d) {
        draws.off(d, doubt, off);
        constants.changes(off, changes);
        if (!water.solve(changes)) continue;
        answered[d] = 1;
        for (std::size_t f = 0; f < figures_.size(); ++f)
          all.values[f * all.draws + d] = figures_.value(f, water.answer());
      }
    };
    side_by_side((all.draws + kDrawsPerJob - 1) / kDrawsPerJob, options_.threads, share);
    all.unanswered = static_cast<std::size_t>(std::count(answered.begin(), answered.end(), 0));
    return all;
  }

  static Spread percentiles(std::span<const double> draws) {
    const auto found = quantiles({draws.begin(), draws.end()}, kShares);
    return {found[0], found[1], found[2], found[3], found[4]};
  }

  static Varying causes(const DrawnConstants& constants, const FigureDraws& draws) {
    const std::size_t figures = constants.figures().size();
    std::vector<double> values(figures * draws.draws());
    std::vector<double> off;
    for (std::size_t d = 0; d < draws.draws(); ++d) {
      draws.off(d, Doubt::published, off);
      for (std::size_t f = 0; f < figures; ++f) values[f * draws.draws() + d] = off[f];
    }
    return {std::move(values), draws.draws()};
  }

  std::vector<DoubtCarrier> carriers(const std::vector<double>& shares,
                                     const DrawnConstants& constants) const {
    const std::size_t answered = published_.draws - published_.unanswered;
    std::vector<std::size_t> order(shares.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return shares[a] > shares[b]; });
    std::vector<DoubtCarrier> most;
    for (const std::size_t f : order) {
      if (most.size() == kCarriers || shares[f] * static_cast<double>(answered) < kTellsFromNone)
        break;
      const DrawnFigure& drawn = constants.figures()[f];
      const Figure& figure = dataset_->figure(drawn.id);
      most.push_back({figure.id, figure.subject, shares[f], share_error(shares[f], answered),
                      figure.uncertainty, static_cast<int>(drawn.others.size()), figure.source,
                      figure.basis});
    }
    return most;
  }

  void sum_up(const DrawnConstants& constants, const FigureDraws& draws) {
    const Varying varying = causes(constants, draws);
    std::vector<FigureRange> all(figures_.size());
    const auto one = [&](std::size_t f) {
      all[f] = {figures_.name(f), figures_.value(f, first_.answer()), percentiles(stated_.of(f)),
                percentiles(published_.of(f)),
                carriers(varying.shares(published_.of(f)), constants)};
    };
    side_by_side(figures_.size(), options_.threads, one);
    for (std::size_t f = 0; f < all.size(); ++f) place(figures_.kind(f), std::move(all[f]));
  }

  void place(FigureKind kind, FigureRange&& range) {
    switch (kind) {
      case FigureKind::ph:
        if (solved_.water.options.acidity == Acidity::charge_balance) ranges_.ph = range;
        break;
      case FigureKind::eh_v:
        if (solved_.water.options.redox != Redox::eh) ranges_.eh_v = range;
        break;
      case FigureKind::ionic_strength:
        ranges_.ionic_strength = std::move(range);
        break;
      case FigureKind::dissolved:
        ranges_.log10_dissolved.push_back(std::move(range));
        break;
      case FigureKind::molality:
        ranges_.log10_molality.push_back(std::move(range));
        break;
      case FigureKind::index:
        ranges_.saturation_index.push_back(std::move(range));
        break;
      case FigureKind::solid:
        if (range.undrawn > 0 || range.as_published.percentile_97_5 > 0)
          ranges_.solid_mol_per_kg.push_back(std::move(range));
        break;
      case FigureKind::fugacity:
        ranges_.log10_fugacity.push_back(std::move(range));
        break;
    }
  }

  static DrawnChance chance(const Drawn& drawn, std::size_t figure) {
    const auto values = drawn.of(figure);
    const auto above = std::count_if(values.begin(), values.end(), [](double v) { return v > 0; });
    const auto share = share_of(static_cast<std::size_t>(above), drawn.draws - drawn.unanswered);
    return {share.share, share.standard_error};
  }

  // Of a solid that may form its amount tells, of another its index.
  void add_chances() {
    for (std::size_t f = 0; f < figures_.size(); ++f) {
      if (figures_.kind(f) != FigureKind::index) continue;
      const auto amount = figures_.amount_of(figures_.name(f));
      const std::size_t tells = amount.value_or(f);
      ranges_.solids.push_back({figures_.name(f), amount.has_value(), chance(stated_, tells),
                                chance(published_, tells)});
    }
  }

  const SolvedWater& solved_;
  std::shared_ptr<const Dataset> dataset_;
  DrawOptions options_;
  DrawnWater first_;
  DrawnFigures figures_;
  Drawn stated_, published_;
  WaterRanges ranges_;
};

}  // namespace

WaterRanges ranges_of(const SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset,
                      const DrawOptions& options) {
  check(options);
  if (solved.result.status == Status::converged) return Drawing(solved, dataset, options).done();
  WaterRanges none;
  none.message = solved.result.message;
  return none;
}

WaterRanges ranges_of(const EquilibriumInput& input, const EquilibriumOptions& system,
                      const std::shared_ptr<const Dataset>& dataset, const DrawOptions& options) {
  SolvedWater solved;
  solved.water.options = system;
  solved.water.input = input;
  solved.result = Equilibrium(dataset, system).solve(input);
  return ranges_of(solved, dataset, options);
}

}  // namespace aeruca
