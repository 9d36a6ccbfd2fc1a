#pragma once

// One function for each kind of record of the data files.

#include "dataset/record.hpp"
#include "dataset/records.hpp"

namespace aeruca::detail {

/// What the head of a file says for all its records.
struct Defaults {
  std::string conditions;
  int generation = 0;
};

/// Where a record stands.
Location location(const Record& record, const Defaults& defaults);
Basis read_basis(Record& record);
Terms read_terms(Record& record, const char* field, const std::string& equation);
/// Value, unit, uncertainty, conditions, source, place, basis, chosen, reason and note of a record.
Figure read_figure(Record& record, const Defaults& defaults, const std::string& id,
                   const std::string& unit);
/// All of these but value, unit, uncertainty and chosen.
void read_origin(Record& record, const Defaults& defaults, Figure& figure);

void read_species(Record& record, Records& records, const Defaults& defaults);
void read_reaction(Record& record, Records& records, const Defaults& defaults);
void read_energy(Record& record, Records& records, const Defaults& defaults);
void read_sit(Record& record, Records& records, const Defaults& defaults);
void read_pitzer(Record& record, Records& records, const Defaults& defaults);
void read_mixing(Record& record, Records& records, const Defaults& defaults);
void read_salt(Record& record, Records& records, const Defaults& defaults);
void read_humidity(Record& record, Records& records, const Defaults& defaults);
void read_onset(Record& record, Records& records, const Defaults& defaults);
void read_bath_reagent(Record& record, Records& records, const Defaults& defaults);
void read_bath_caution(Record& record, Records& records, const Defaults& defaults);
void read_bath_salt(Record& record, Records& records, const Defaults& defaults);
void read_bath_form(Record& record, Records& records, const Defaults& defaults);
void read_field_test(Record& record, Records& records, const Defaults& defaults);
void read_mineral_group(Record& record, Records& records, const Defaults& defaults);
void read_mineral(Record& record, Records& records, const Defaults& defaults);
void read_other(Record& record, Records& records, const Defaults& defaults);

}  // namespace aeruca::detail
