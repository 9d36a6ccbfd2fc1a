#include "aeruca/casefile.hpp"
#include "base/text.hpp"
#include "casefile/case_workbook.hpp"

namespace aeruca {
namespace {

constexpr std::string_view kTemplate =
    R"(# A case file: one object, what you know of it, and where its logs are.
#
# How to fill it in
#   - A line that starts with # is a remark. Take the # away to use the line, and put your own figure.
#   - Leave out what you do not know. The answer then says what is missing.
#   - Numbers stand without quotes and with a point: 184.5   Words stand in quotes: "text"
#   - A reading may carry its error, "640 +/- 30", or lie below the detection limit, "< 5".
#   - Logs (CSV files) are looked for beside this file.
# Then run:  aeruca case THIS-FILE      and:  aeruca report THIS-FILE

schema = 1                           # the form of this file

[object]
name = "unnamed object"
# material = "cast bronze"           # the alloy in words
# mass_g = 184.5                     # grams; without it nothing is said per gram
# silver_nitrate_test = "positive"   # of a few lifted grains: "positive", "negative" or "not done"
#
# What the object has. Some of these end the calculation at "ask a conservator":
#   composite, gilded, silvered, tinned, inlaid, painted, lacquered, enamelled, glass,
#   mineralised organics, heavily leaded, hollow mineralised, human remains, sacred,
#   old coating, earlier treatment, cracked, little metal left
# features = ["old coating"]
# notes = "found in 2019, cleaned dry"

# What was seen, one block for each day. kind is one of
#   pale green powder, new growth, waxy grey-green, smooth green, no change, other
# [[observation]]
# date = 2026-03-04
# kind = "pale green powder"
# text = "three raised spots on the rim, each about 1 mm"
# seen = ["colour=pale-green", "powdery", "silver-nitrate=cloud"]   # of one lifted grain, in the words that
#                                    # aeruca minerals  lists; tells what it may be, never that it is active

# A water the object lay in. Repeat the block for a second water.
# [[water]]
# name = "burial water"
# temperature_c = 12                 # 0 to 50
# ph = "6.4 +/- 0.1"
# eh_mv = 210                        # millivolt as read ...
# reference_electrode = "ag-agcl-3m" # ... against this electrode; leave out when already against SHE
# eh_uncertainty_mv = 20
# aerated = true                     # in place of eh_mv: the water is open to air
# chloride_mg_per_l = "640 +/- 30"
# bicarbonate_mg_per_l = 310
# sulfate_mg_per_l = 95
# nitrate_mg_per_l = "< 2"
# sodium_mg_per_l = 405
# potassium_mg_per_l = 14
# calcium_mg_per_l = 88
# magnesium_mg_per_l = 41
# copper_mg_per_l = 0.3
# ammonium_mmol_per_l = 0.1          # any other ion the data set knows; also _mg_per_kg, _ug_per_l
# conductivity_us_per_cm = 2600      # at 25 degrees C; compared with the ions found
# carbon_dioxide_bar = 0.06          # where soil gas or air holds it: it decides the carbonate, and
#                                    # the bicarbonate is compared

# The liquid in a pit, for the second diagram: activities, about mol per kg of water. As they stand
# here is what is taken without them (strong chloride; the copper that nantokite holds in it).
# [pit]
# chloride_activity = 1
# copper_activity = 0.1

# Where the object is kept, and the record of a logger there (columns: time, temperature, humidity).
# [store]
# name = "dry box 3"
# log = "store-log.csv"              # or a folder, a pattern "logs/*.csv", a list of files: one record
# rh_column = "RH box"               # where the log has several; also time_column, temperature_column
# sheet = "room 3"                   # of a workbook (.xlsx) with several sheets of readings
# date_order = "day_first"           # where 03/04/2024 in the log is 3 April; or "month_first"
# sensor_accuracy_rh_percent = 3     # of the logger, from its certificate, plus or minus
# sensor_drift_rh_percent_per_year = 1   # plus or minus, where its maker states one ...
# sensor_calibrated = "2026-03-01"   # ... since this day
# beside = "second-log.csv"          # a second logger at the same place, to compare
# beside_accuracy_rh_percent = 2     # of the second logger
# object_cooler_by_k = 1             # how much colder the object is than the air
# onset = "scott-1990"               # which published humidity limit; aeruca constants lists them
# salts = ["halite"]                 # salts found on the object, by mineral or formula
# salt_analysis = "salts.csv"        # ions found in the salts: a table ion,amount (chloride,535 mg/kg)

# What the logger read in a closed jar over a saturated salt; another such table for another salt.
# [[store.sensor_check]]
# salt = "bischofite"
# temperature_c = 21
# reading_rh_percent = 34.2

# The box, bag or case it is kept in: how long it stays dry, how much gel, when to look again.
# [store.enclosure]
# volume_m3 = 0.05                   # of air
# exchange_per_day = 0.5             # volumes of air a day. Or measured: decay_test names a CSV of
#                                    # hours and readings of a tracer, decay_background its reading
#                                    # outside
# exchange_uncertainty_percent = 20  # of the exchange
# gel_kg = 0.4                       # dry silica gel
# gel = "thu-2013"                   # its isotherm, if it is known; data/buffers.toml has them
# contents_g_per_rh = 1.5            # water that wood, card or cloth inside take up for 1 % RH
# outside_rh_percent = 55            # a climate outside that stays ...
# temperature_c = 18                 # ... and its temperature; or outside_log names a record
# inside_temperature_c = 20          # where the box has another
# start_rh_percent = 8               # inside, on that day; else the last day of the log above
# started = 2026-05-12
# limit_rh_percent = 40              # else the set-point of the log
# visit_days = 365                   # between two visits

# The baths (columns of the log: date in, date out, volume, chloride ...).
# [bath]
# log = "bath-log.csv"
# shape = "slab"                     # the corroded layer: "slab", "cylinder" (rod) or "sphere" (ball)
# layer_thickness_mm = 0.8           # of the corroded layer, or the radius of rod or ball
# load = "uniform"                   # chloride spread through the layer, or "at-metal"
# stop_mg_per_l = 5                  # the reading your house rule stops at
# target_left_mg_per_g = 0.4         # chloride that may stay in a gram of object
# next_volume_l = 2.0                # the bath you would fill next ...
# next_days = 28                     # ... and how long it would stand
# chloride_method = "silver titration"
# reading_error_percent = 5          # of one reading, where the log does not say

# What the bath is made of. salt is one of
#   sodium sesquicarbonate, sodium carbonate, sodium bicarbonate, sodium hydroxide
# and left out for water alone. on_the_shelf says which form you weigh: dihydrate (ready sesquicarbonate),
# anhydrous, monohydrate or decahydrate (washing soda); for sesquicarbonate the last three go with
# bicarbonate. The bicarbonate is anhydrous, the hydroxide pellets.
# [bath.solution]
# salt = "sodium sesquicarbonate"
# strength_percent_w_v = 1           # grams in 100 mL of finished bath
# on_the_shelf = "decahydrate"
# purity_percent = 99.5
# salt_chloride_percent = 0.002      # chloride in the salt, from its label
# water_chloride_mg_per_l = 0.1      # chloride in the water used
# volume_l = 2.0
# temperature_c = 20
)";

}  // namespace

std::string case_template() {
  return std::string(kTemplate);
}

void write_case_template(const std::string& path, const CaseWorkbooks& workbooks) {
  if (detail::is_named_workbook(path))
    detail::write_case_workbook(path, workbooks);
  else
    detail::create_file(path, kTemplate);
}

}  // namespace aeruca
