//! Complex numbers, as much as the laws of alternating current need.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A complex number.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// Zero.
    pub const ZERO: Complex = Complex { re: 0.0, im: 0.0 };
    /// One.
    pub const ONE: Complex = Complex { re: 1.0, im: 0.0 };

    /// A number from its parts.
    pub const fn new(re: f64, im: f64) -> Complex {
        Complex { re, im }
    }

    /// A number from its magnitude and angle in degrees.
    pub fn polar(magnitude: f64, angle_deg: f64) -> Complex {
        let angle = angle_deg * (std::f64::consts::PI / 180.0);
        Complex { re: magnitude * libm::cos(angle), im: magnitude * libm::sin(angle) }
    }

    /// The conjugate.
    pub const fn conjugate(self) -> Complex {
        Complex { re: self.re, im: -self.im }
    }

    /// The square of the magnitude.
    pub fn magnitude_squared(self) -> f64 {
        self.re * self.re + self.im * self.im
    }

    /// The magnitude.
    pub fn magnitude(self) -> f64 {
        self.magnitude_squared().sqrt()
    }

    /// Times a real number.
    pub fn scale(self, by: f64) -> Complex {
        Complex { re: self.re * by, im: self.im * by }
    }
}

impl Add for Complex {
    type Output = Complex;
    fn add(self, o: Complex) -> Complex {
        Complex { re: self.re + o.re, im: self.im + o.im }
    }
}

impl Sub for Complex {
    type Output = Complex;
    fn sub(self, o: Complex) -> Complex {
        Complex { re: self.re - o.re, im: self.im - o.im }
    }
}

impl Neg for Complex {
    type Output = Complex;
    fn neg(self) -> Complex {
        Complex { re: -self.re, im: -self.im }
    }
}

impl Mul for Complex {
    type Output = Complex;
    fn mul(self, o: Complex) -> Complex {
        Complex { re: self.re * o.re - self.im * o.im, im: self.re * o.im + self.im * o.re }
    }
}

impl Div for Complex {
    type Output = Complex;
    fn div(self, o: Complex) -> Complex {
        let below = o.magnitude_squared();
        (self * o.conjugate()).scale(1.0 / below)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn division_undoes_multiplication() {
        let (a, b) = (Complex::new(1.5, -2.0), Complex::new(-0.3, 0.7));
        assert!(((a * b) / b - a).magnitude() < 1e-15);
        assert!(
            (Complex::polar(2.0, 120.0) - Complex::new(-1.0, 3f64.sqrt())).magnitude() < 1e-15
        );
    }
}
