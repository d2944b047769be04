/*
 * What the machine can do: the planar Neumann sum over node pairs in C, double precision as the compiler makes it and
 * single precision by hand with AVX2 (reciprocal square root estimate and one Newton step). Prints nanoseconds for one pair.
 */
#include <immintrin.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { SOURCES = 1016, TARGETS = 1600, RUNS = 20, REPEATS = 9 };

static double seconds(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

__attribute__((noinline)) static double sum_double(const double *s, const double *t, double height2) {
  double total = 0;
  for (int j = 0; j < TARGETS; j++) {
    double x = t[j], y = t[TARGETS + j], u = t[2 * TARGETS + j], v = t[3 * TARGETS + j], sum = 0;
    for (int i = 0; i < SOURCES; i++) {
      double p = s[i] - x, q = s[SOURCES + i] - y;
      sum += (s[2 * SOURCES + i] * u + s[3 * SOURCES + i] * v) / sqrt(p * p + q * q + height2);
    }
    total += sum;
  }
  return total;
}

__attribute__((noinline)) static double sum_single(const float *s, const float *t, float height2) {
  double total = 0;
  const __m256 half = _mm256_set1_ps(0.5f), three = _mm256_set1_ps(1.5f), h = _mm256_set1_ps(height2);
  for (int j = 0; j < TARGETS; j++) {
    const __m256 x = _mm256_set1_ps(t[j]), y = _mm256_set1_ps(t[TARGETS + j]);
    const __m256 u = _mm256_set1_ps(t[2 * TARGETS + j]), v = _mm256_set1_ps(t[3 * TARGETS + j]);
    __m256 sum = _mm256_setzero_ps();
    for (int i = 0; i < SOURCES; i += 8) {
      __m256 p = _mm256_sub_ps(_mm256_loadu_ps(s + i), x), q = _mm256_sub_ps(_mm256_loadu_ps(s + SOURCES + i), y);
      __m256 d = _mm256_fmadd_ps(p, p, _mm256_fmadd_ps(q, q, h));
      __m256 r = _mm256_rsqrt_ps(d);
      r = _mm256_mul_ps(r, _mm256_fnmadd_ps(_mm256_mul_ps(d, half), _mm256_mul_ps(r, r), three));
      __m256 product = _mm256_mul_ps(_mm256_loadu_ps(s + 3 * SOURCES + i), v);
      product = _mm256_fmadd_ps(_mm256_loadu_ps(s + 2 * SOURCES + i), u, product);
      sum = _mm256_fmadd_ps(product, r, sum);
    }
    float lanes[8];
    _mm256_storeu_ps(lanes, sum);
    for (int k = 0; k < 8; k++) total += lanes[k];
  }
  return total;
}

int main(void) {
  double *d = malloc(sizeof(double) * 4 * (SOURCES + TARGETS));
  float *f = malloc(sizeof(float) * 4 * (SOURCES + TARGETS));
  for (int i = 0; i < 4 * (SOURCES + TARGETS); i++) f[i] = d[i] = 40.0 * rand() / RAND_MAX - 20;
  double check = 0, best_double = 1e9, best_single = 1e9;
  for (int r = 0; r < REPEATS; r++) {
    double start = seconds();
    for (int k = 0; k < RUNS; k++) check += sum_double(d, d + 4 * SOURCES, 4 + 1e-6 * k);
    double one = (seconds() - start) / RUNS / SOURCES / TARGETS * 1e9;
    if (one < best_double) best_double = one;
    start = seconds();
    for (int k = 0; k < RUNS; k++) check += sum_single(f, f + 4 * SOURCES, 4 + 1e-6f * k);
    one = (seconds() - start) / RUNS / SOURCES / TARGETS * 1e9;
    if (one < best_single) best_single = one;
  }
  printf("%.4f %.4f\n", best_double, best_single);
  return check == 0.123456789;
}
