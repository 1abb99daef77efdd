//! A cable's warming after a step of loss, as two loops of resistance and heat capacity.
//!
//! The insulation's heat is shared between conductor and surface by Van Wormer's coefficient, so that
//!
//! ```text
//! p  = 1/(2 ln(D/d)) - 1/((D/d)^2 - 1)
//! QA = Qc + p Qi,  QB = (1 - p) Qi,  TA = T1,  TB = T4
//! M0 = (QA (TA + TB) + QB TB)/2,  N0 = QA TA QB TB
//! a, b = (M0 +- sqrt(M0^2 - N0))/N0
//! Ta = (1/QA - b (TA + TB))/(a - b),  Tb = TA + TB - Ta
//! rise = W (Ta (1 - e^-at) + Tb (1 - e^-bt))
//! ```
//!
//! Range    Constant loss and constant resistances; insulation thin or thick, from about T1 Qi / 2 on. Sooner,
//!          heat has not yet crossed the insulation and two loops are too slow (9 % after 30 s where the direct
//!          solution has 3.80 K; 0.5 % after five minutes).
//! Source   IEC 60853-2 (memory); Van Wormer 1955 (memory). The constants agree with a direct solution.
//! Caveat   Resistance rises with temperature and convection with the rise; neither is in it. The plan does
//!          not use it: it solves the shells themselves. It is here for whoever checks by hand.

/// A cable as two loops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoLoops {
    /// Conductor, J/mK.
    pub conductor_j_mk: f64,
    /// Insulation, J/mK.
    pub insulation_j_mk: f64,
    /// Outer over inner diameter of the insulation, above 1.
    pub diameter_ratio: f64,
    /// Insulation, K m/W.
    pub inside_k_m_w: f64,
    /// Surface to air, K m/W.
    pub outside_k_m_w: f64,
}

/// What the loops come to: each resistance with the rate at which it is reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terms {
    /// K m/W and 1/s of the quick one.
    pub quick: (f64, f64),
    /// K m/W and 1/s of the slow one.
    pub slow: (f64, f64),
}

/// Share of the insulation's heat that sits at the conductor, for insulation of outer over inner diameter.
pub fn van_wormer(diameter_ratio: f64) -> f64 {
    assert!(1.0 < diameter_ratio, "insulation has a thickness");
    // p = 1/(2 ln(D/d)) - 1/((D/d)^2 - 1)
    0.5 / libm::log(diameter_ratio) - 1.0 / (diameter_ratio * diameter_ratio - 1.0)
}

impl TwoLoops {
    /// The terms of the response.
    pub fn terms(&self) -> Terms {
        let p = van_wormer(self.diameter_ratio);
        // QA = Qc + p Qi,  QB = (1 - p) Qi
        let qa = self.conductor_j_mk + p * self.insulation_j_mk;
        let qb = (1.0 - p) * self.insulation_j_mk;
        let (ta, tb) = (self.inside_k_m_w, self.outside_k_m_w);
        // M0 = (QA (TA + TB) + QB TB)/2,  N0 = QA TA QB TB
        let m0 = 0.5 * (qa * (ta + tb) + qb * tb);
        let n0 = qa * ta * qb * tb;
        // a, b = (M0 +- sqrt(M0^2 - N0))/N0
        let root = (m0 * m0 - n0).max(0.0).sqrt();
        let (a, b) = ((m0 + root) / n0, (m0 - root) / n0);
        // Ta = (1/QA - b (TA + TB))/(a - b)
        let quick = (1.0 / qa - b * (ta + tb)) / (a - b);
        Terms { quick: (quick, a), slow: (ta + tb - quick, b) }
    }

    /// Rise of the conductor above the air some time after a loss is switched on, K.
    pub fn rise_k(&self, loss_w_per_m: f64, time_s: f64) -> f64 {
        let Terms { quick, slow } = self.terms();
        // rise = W (Ta (1 - e^-at) + Tb (1 - e^-bt))
        let part = |(k_m_w, rate): (f64, f64)| -k_m_w * libm::expm1(-rate * time_s);
        loss_w_per_m * (part(quick) + part(slow))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cable() -> TwoLoops {
        TwoLoops {
            conductor_j_mk: 218.6955,
            insulation_j_mk: 273.32,
            diameter_ratio: 17.0 / 12.0,
            inside_k_m_w: 0.194_022,
            outside_k_m_w: 1.101_46,
        }
    }

    #[test]
    fn val_terms_of_a_flexible_70() {
        // Worked independently from IEC 60853-2.
        let Terms { quick, slow } = cable().terms();
        assert!((van_wormer(17.0 / 12.0) - 0.442_413).abs() < 1e-6);
        assert!((quick.1 / 0.053_255_3 - 1.0).abs() < 1e-4, "{quick:?}");
        assert!((slow.1 / 0.001_697_65 - 1.0).abs() < 1e-5, "{slow:?}");
        assert!((quick.0 / 0.014_454_3 - 1.0).abs() < 1e-4, "{quick:?}");
        assert!((slow.0 / 1.281_027_8 - 1.0).abs() < 1e-5, "{slow:?}");
    }

    #[test]
    fn it_begins_as_the_conductor_alone_and_ends_as_resistances_alone() {
        let c = cable();
        let p = van_wormer(c.diameter_ratio);
        let slope = c.rise_k(46.0, 1e-3) / 1e-3;
        let adiabatic = 46.0 / (c.conductor_j_mk + p * c.insulation_j_mk);
        assert!((slope / adiabatic - 1.0).abs() < 1e-4);
        let all = 46.0 * (c.inside_k_m_w + c.outside_k_m_w);
        assert!((c.rise_k(46.0, 1e6) - all).abs() < 1e-9);
    }
}
