#pragma once

// The built-in data set with less in it: what is known of copper and of acids is complete, and what
// happens where it is not must still be told.

#include <memory>
#include <string>

#include "aeruca/dataset.hpp"
#include "own_folder.hpp"

namespace aeruca_test {

/// With the records of a text in place of its own.
inline std::shared_ptr<const aeruca::Dataset> dataset_with(const std::string& records) {
  const OwnFolder folder;
  return aeruca::extend_dataset(*aeruca::default_dataset(), folder.write("own.toml", records));
}

/// Nobody measured the heat of Cu(OH)3(-): it is estimated.
inline std::shared_ptr<const aeruca::Dataset> dataset_without_an_enthalpy() {
  return dataset_with(
      "[[reaction]]\nid = \"H1C.enthalpy\"\n"
      "equation = \"Cu(2+) + 3 H2O = Cu(OH)3(-) + 3 H(+)\"\nquantity = \"enthalpy\"\n"
      "value = 149.2\nunit = \"kJ/mol\"\nsource = \"aeruca\"\nplace = \"derived here: for a "
      "test\"\n"
      "basis = \"derived\"\nchosen = false\nreason = \"left out for a test\"\n");
}

/// Nor that of water's ionisation: Cu(OH)3(-) is known at 25 C only, for the rule rests on it.
inline std::shared_ptr<const aeruca::Dataset> dataset_without_ionisation_of_water() {
  const std::string lost =
      "unit = \"kJ/mol\"\nsource = \"aeruca\"\nplace = \"derived here: for a test\"\n"
      "basis = \"derived\"\nchosen = false\nreason = \"left out for a test\"\n";
  return dataset_with(
      "[[reaction]]\nid = \"H1C.enthalpy\"\n"
      "equation = \"Cu(2+) + 3 H2O = Cu(OH)3(-) + 3 H(+)\"\nquantity = \"enthalpy\"\n"
      "value = 149.2\n" +
      lost +
      "[[reaction]]\nid = \"W01H.enthalpy\"\nequation = \"H2O = H(+) + OH(-)\"\n"
      "quantity = \"enthalpy\"\nvalue = 55.815\n" +
      lost +
      "[[energy]]\nid = \"OH(-).enthalpy.cox1989\"\nspecies = \"OH(-)\"\n"
      "quantity = \"enthalpy\"\nvalue = -230.015\n" +
      lost);
}

}  // namespace aeruca_test
