//! The coefficients: the published file, embedded, and the tables the sum runs over. Both are worked out by the
//! compiler, so nothing is read or prepared at start.

use crate::numbers::real;

/// The published coefficient file, byte for byte (NOAA/NCEI and BGS; a work of the U.S. Government, not subject to copyright).
pub(super) const COF: &str = include_str!("WMM2025.COF");

/// Highest degree and order of the model.
pub(super) const DEGREE: usize = 12;

/// Steps of the orders 1 and higher, two orders at a time: 12 + 10 + 8 + 6 + 4 + 2.
const STEPS: usize = DEGREE * (DEGREE + 2) / 4;

/// One line of the file: Schmidt semi-normalised g and h in nT at the epoch, and their change in nT per year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    pub(super) g: f64,
    pub(super) h: f64,
    pub(super) g_rate: f64,
    pub(super) h_rate: f64,
}

/// The lines by degree and order.
pub(super) type Lines = [[Line; DEGREE + 1]; DEGREE + 1];

/// Two numbers worked on together, one vector register of every 64-bit machine.
pub(super) type Two = [f64; 2];

/// One step of the sum for two orders at once, m (odd) and m + 1, each at its own degree: m + k and m + 1 + k at step k.
///
/// The Legendre polynomials run without their leading factors (each order starts from 1); the factors and Schmidt's norm
/// are in the coefficients here instead. The second order is one step shorter and ends with zeros.
#[derive(Clone, Copy)]
pub(super) struct Step {
    /// Times the polynomial: g, h, g's rate, h's rate.
    pub(super) here: [Two; 4],
    /// Times the polynomial: the share it has in the slope of the next degree, for g, h, g's rate, h's rate.
    pub(super) slope: [Two; 4],
    /// Share of the polynomial before this one in the next.
    pub(super) back: Two,
}

/// One degree of order 0: g and g's rate.
#[derive(Clone, Copy)]
pub(super) struct Zonal {
    /// Times the polynomial of order 0: the downward part.
    pub(super) down: Two,
    /// Times the polynomial of order 1, whose multiple the slope of order 0 is: the northward part.
    pub(super) north: Two,
    /// Share of the polynomial before this one in the next, for orders 0 and 1.
    pub(super) back: Two,
}

/// Everything the sum runs over.
pub(super) struct Tables {
    /// Degrees 1 to 12 of order 0.
    pub(super) zonal: [Zonal; DEGREE],
    /// Orders 1 and 2, 3 and 4, … 11 and 12: 12 steps, 10, … 2.
    pub(super) steps: [Step; STEPS],
}

/// The coefficients as published.
pub(super) const LINES: Lines = lines(COF.as_bytes());

/// The epoch of the model as a decimal year.
pub(super) const EPOCH: f64 = epoch(COF.as_bytes());

/// The coefficients made ready for the sum.
pub(super) const TABLES: Tables = Tables { zonal: zonal(&LINES), steps: steps(&LINES) };

const fn zonal(lines: &Lines) -> [Zonal; DEGREE] {
    let mut zonal = [Zonal { down: [0.0; 2], north: [0.0; 2], back: [0.0; 2] }; DEGREE];
    let mut n = 1;
    while n <= DEGREE {
        let Line { g, g_rate, .. } = lines[n][0];
        let down = real(n + 1) * factor(n, 0);
        // dP(n,0)/dθ = −sqrt(n(n+1)/2) P(n,1), both Schmidt semi-normalised.
        let north = square_root(real(n * (n + 1)) / 2.0) * factor(n, 1);
        zonal[n - 1] = Zonal {
            down: [down * g, down * g_rate],
            north: [north * g, north * g_rate],
            back: [back(n, 0), back(n, 1)],
        };
        n += 1;
    }
    zonal
}

const fn steps(lines: &Lines) -> [Step; STEPS] {
    let mut steps = [Step { here: [[0.0; 2]; 4], slope: [[0.0; 2]; 4], back: [0.0; 2] }; STEPS];
    let mut at = 0;
    let mut odd = 1;
    while odd < DEGREE {
        let mut k = 0;
        while odd + k <= DEGREE {
            let mut lane = 0;
            while lane < 2 {
                let m = odd + lane;
                let n = m + k;
                if n <= DEGREE {
                    let here = scaled(lines[n][m], factor(n, m));
                    let slope = next_slope(lines, n, m);
                    let mut i = 0;
                    while i < 4 {
                        steps[at].here[i][lane] = here[i];
                        steps[at].slope[i][lane] = slope[i];
                        i += 1;
                    }
                    steps[at].back[lane] = back(n, m);
                }
                lane += 1;
            }
            at += 1;
            k += 1;
        }
        odd += 2;
    }
    steps
}

/// sin θ dP(n,m)/dθ = n cos θ P(n,m) − sqrt(n² − m²) P(n−1,m): the last part, for n + 1, resting on the polynomial of n.
const fn next_slope(lines: &Lines, n: usize, m: usize) -> [f64; 4] {
    if n == DEGREE {
        return [0.0; 4];
    }
    let next = n + 1;
    scaled(lines[next][m], real(next * next - m * m) / real(2 * next - 1) * factor(next, m))
}

const fn scaled(line: Line, size: f64) -> [f64; 4] {
    [line.g * size, line.h * size, line.g_rate * size, line.h_rate * size]
}

/// With leading factor 1, p(n+1) = x p(n) − back · p(n−1).
const fn back(n: usize, m: usize) -> f64 {
    real(n * n - m * m) / real(4 * n * n - 1)
}

/// Schmidt semi-normalised P(n,m) divided by the polynomial with leading factor 1 (and by sinᵐθ).
const fn factor(n: usize, m: usize) -> f64 {
    // (2n − 1)!! / (n − m)! is the leading factor, 2 (n − m)! / (n + m)! the square of Schmidt's norm (1 for m = 0).
    let mut leading = 1.0;
    let mut k = 1;
    while k <= n {
        leading *= real(2 * k - 1);
        k += 1;
    }
    leading /= factorial(n - m);
    let norm = if m == 0 { 1.0 } else { 2.0 * factorial(n - m) / factorial(n + m) };
    leading * square_root(norm)
}

const fn factorial(n: usize) -> f64 {
    let mut product = 1.0;
    let mut k = 2;
    while k <= n {
        product *= real(k);
        k += 1;
    }
    product
}

/// Newton's way from above, for numbers above 0, until it no longer falls: the compiler has no other square root yet.
const fn square_root(square: f64) -> f64 {
    let mut root = if square > 1.0 { square } else { 1.0 };
    loop {
        let next = 0.5 * (root + square / root);
        if next >= root {
            return root;
        }
        root = next;
    }
}

/// Reads the published file. A file that is not one stops the build.
const fn lines(text: &[u8]) -> Lines {
    let mut lines = [[Line { g: 0.0, h: 0.0, g_rate: 0.0, h_rate: 0.0 }; DEGREE + 1]; DEGREE + 1];
    let mut at = end_of_line(text, 0);
    let mut n = 1;
    while n <= DEGREE {
        let mut m = 0;
        while m <= n {
            let degree = read(text, &mut at);
            let order = read(text, &mut at);
            assert!(degree == real(n) && order == real(m), "the coefficients are not in their order");
            lines[n][m] = Line {
                g: read(text, &mut at),
                h: read(text, &mut at),
                g_rate: read(text, &mut at),
                h_rate: read(text, &mut at),
            };
            m += 1;
        }
        n += 1;
    }
    let end = read(text, &mut at);
    assert!(end > 1e40, "the closing row of nines is missing");
    lines
}

const fn epoch(text: &[u8]) -> f64 {
    read(text, &mut 0)
}

const fn end_of_line(text: &[u8], mut at: usize) -> usize {
    while text[at] != b'\n' {
        at += 1;
    }
    at
}

/// The next decimal number at or after `at`, which is moved behind it.
const fn read(text: &[u8], at: &mut usize) -> f64 {
    while text[*at].is_ascii_whitespace() {
        *at += 1;
    }
    let negative = text[*at] == b'-';
    if negative {
        *at += 1;
    }
    let (mut digits, mut scale, mut after_point) = (0.0, 1.0, false);
    let begin = *at;
    while *at < text.len() && !text[*at].is_ascii_whitespace() {
        match text[*at] {
            b'.' if !after_point => after_point = true,
            digit @ b'0'..=b'9' => {
                digits = digits * 10.0 + (digit - b'0') as f64;
                if after_point {
                    scale *= 10.0;
                }
            }
            _ => panic!("a coefficient is not a number"),
        }
        *at += 1;
    }
    assert!(*at > begin, "a coefficient is missing");
    // One division of two whole numbers: correctly rounded, the same as reading the text at run time.
    let size = digits / scale;
    if negative { -size } else { size }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_compiler_read_the_published_file_line_by_line() {
        let mut rows = COF.lines();
        let header: Vec<&str> = rows.next().unwrap().split_whitespace().collect();
        assert_eq!(header, ["2025.0", "WMM-2025", "11/13/2024"]);
        assert_eq!(EPOCH, 2025.0);
        let mut read = 0;
        for row in rows.take_while(|row| !row.starts_with("9999")) {
            let words: Vec<&str> = row.split_whitespace().collect();
            let [n, m] = [0, 1].map(|i| words[i].parse::<usize>().unwrap());
            let [g, h, g_rate, h_rate] = [2, 3, 4, 5].map(|i| words[i].parse::<f64>().unwrap());
            assert_eq!(LINES[n][m], Line { g, h, g_rate, h_rate }, "{row}");
            assert_eq!(words.len(), 6, "{row}");
            read += 1;
        }
        assert_eq!(read, 90, "degrees 1 to 12 with their orders from 0");
    }

    #[test]
    fn the_compilers_square_root_is_the_machines() {
        for square in [1.0, 2.0, 0.5, 78.0, 66.0, 3.0e-24, 2.0 / 479_001_600.0] {
            let (ours, theirs) = (square_root(square), f64::sqrt(square));
            assert!((ours - theirs).abs() <= f64::EPSILON * theirs, "{square}: {ours} {theirs}");
        }
    }
}
