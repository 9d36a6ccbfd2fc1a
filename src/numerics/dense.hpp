#pragma once

// Small dense linear systems in place, without allocation: the inner loop of the equilibrium solver
// factors matrices of 2 to 20 rows a hundred thousand times a second.

#include <cstddef>

namespace aeruca::detail {

/// LU factors of a row-major n by n matrix with row pitch `stride`, in place, with partial
/// pivoting. Returns false when a pivot is zero or not finite; the matrix is then spoilt.
bool lu_factor(double* matrix, std::size_t n, std::size_t stride, std::size_t* pivots);

/// Solves with the factors for `columns` right-hand sides, row-major with pitch `pitch`, in place.
void lu_solve(const double* factors, std::size_t n, std::size_t stride, const std::size_t* pivots,
              double* right, std::size_t columns, std::size_t pitch);

/// Lower Cholesky factor of a symmetric positive definite matrix, in place, rows scaled by the
/// caller. Pivots below `floor` are lifted to it, so that a direction always comes out.
void cholesky_factor(double* matrix, std::size_t n, std::size_t stride, double floor);
void cholesky_solve(const double* factor, std::size_t n, std::size_t stride, double* right);

}  // namespace aeruca::detail
