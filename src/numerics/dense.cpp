#include "numerics/dense.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace aeruca::detail {

bool lu_factor(double* matrix, std::size_t n, std::size_t stride, std::size_t* pivots) {
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t best = k;
    for (std::size_t i = k + 1; i < n; ++i) {
      if (std::abs(matrix[i * stride + k]) > std::abs(matrix[best * stride + k])) best = i;
    }
    pivots[k] = best;
    if (best != k) {
      std::swap_ranges(matrix + k * stride, matrix + k * stride + n, matrix + best * stride);
    }
    const double pivot = matrix[k * stride + k];
    if (!(std::abs(pivot) > 0) || !std::isfinite(pivot)) return false;
    for (std::size_t i = k + 1; i < n; ++i) {
      const double factor = matrix[i * stride + k] /= pivot;
      if (factor == 0) continue;
      for (std::size_t j = k + 1; j < n; ++j)
        matrix[i * stride + j] -= factor * matrix[k * stride + j];
    }
  }
  return true;
}

void lu_solve(const double* factors, std::size_t n, std::size_t stride, const std::size_t* pivots,
              double* right, std::size_t columns, std::size_t pitch) {
  for (std::size_t k = 0; k < n; ++k) {
    if (pivots[k] == k) continue;
    std::swap_ranges(right + k * pitch, right + k * pitch + columns, right + pivots[k] * pitch);
  }
  for (std::size_t i = 1; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      const double factor = factors[i * stride + k];
      if (factor == 0) continue;
      for (std::size_t c = 0; c < columns; ++c)
        right[i * pitch + c] -= factor * right[k * pitch + c];
    }
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) {
      const double factor = factors[i * stride + k];
      if (factor == 0) continue;
      for (std::size_t c = 0; c < columns; ++c)
        right[i * pitch + c] -= factor * right[k * pitch + c];
    }
    for (std::size_t c = 0; c < columns; ++c) right[i * pitch + c] /= factors[i * stride + i];
  }
}

void cholesky_factor(double* matrix, std::size_t n, std::size_t stride, double floor) {
  for (std::size_t j = 0; j < n; ++j) {
    double diagonal = matrix[j * stride + j];
    for (std::size_t k = 0; k < j; ++k) diagonal -= matrix[j * stride + k] * matrix[j * stride + k];
    const double root = std::sqrt(std::max(diagonal, floor));
    matrix[j * stride + j] = root;
    for (std::size_t i = j + 1; i < n; ++i) {
      double sum = matrix[i * stride + j];
      for (std::size_t k = 0; k < j; ++k) sum -= matrix[i * stride + k] * matrix[j * stride + k];
      matrix[i * stride + j] = sum / root;
    }
  }
}

void cholesky_solve(const double* factor, std::size_t n, std::size_t stride, double* right) {
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) right[i] -= factor[i * stride + k] * right[k];
    right[i] /= factor[i * stride + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) right[i] -= factor[k * stride + i] * right[k];
    right[i] /= factor[i * stride + i];
  }
}

}  // namespace aeruca::detail
