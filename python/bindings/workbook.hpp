#pragma once

// Workbooks for the core, which reads none: aeruca.workbook and aeruca.case_workbook make text of them.

#include "aeruca/casefile.hpp"
#include "aeruca/logger.hpp"
#include "pybind.hpp"

/// May be called on any thread, with the interpreter lock or without.
aeruca::WorkbookReader workbook_reader();
/// The same of cases.
aeruca::CaseWorkbooks case_workbooks();
