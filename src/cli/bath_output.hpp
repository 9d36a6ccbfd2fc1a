#pragma once

// What `aeruca bath ...` was asked and how it answers, as text or JSON.

#include <limits>
#include <string>
#include <vector>

#include "aeruca/bath.hpp"
#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_plan.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/weigh_out.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {

struct BodyRequest {
  std::string shape = "slab";
  std::string load = "uniform";
  double biot = std::numeric_limits<double>::infinity();

  [[nodiscard]] PorousBody body() const { return {body_shape(shape), initial_load(load), biot}; }
};

struct LogRequest {
  std::string file;
  BodyRequest body;
  BathFitOptions options;
  double blank_mg_per_l = kNotGiven;
};

struct ForecastRequest {
  BodyRequest body;
  double rate_per_day = kNotGiven;
  double d_m2_per_s = kNotGiven;
  double thickness_mm = kNotGiven;
  double load_mg = 1000;
  std::vector<double> volumes_l;
  std::vector<double> days;
  double capacity_l = kNotGiven;
  double fill_mg_per_l = 0;
  double carry_over = 0;
};

struct PlanRequest {
  BodyRequest body;
  double total_tau = kNotGiven;
  double rate_per_day = kNotGiven;
  double total_days = kNotGiven;
  double alpha = 0;
  std::vector<std::size_t> counts{1, 2, 4, 8};
  bool same_liquid = false;
};

struct WeighRequest {
  WeighOutRequest request;
  double percent = kNotGiven;
  double mol_per_l = kNotGiven;
};

void print_log(const LogRequest& request, Context& context);
void print_forecast(const ForecastRequest& request, Context& context);
void print_plan(const PlanRequest& request, Context& context);
void print_weigh_out(const WeighRequest& request, Context& context);

}  // namespace aeruca::cli
