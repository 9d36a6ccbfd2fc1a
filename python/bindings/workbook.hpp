#pragma once

// Workbooks for the core, which reads none: aeruca.workbook makes text of them.

#include "aeruca/logger.hpp"
#include "pybind.hpp"

/// May be called on any thread, with the interpreter lock or without.
aeruca::WorkbookReader workbook_reader();
