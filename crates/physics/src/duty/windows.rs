//! What a current that changes means: greatest rms over windows, and the steady current a body feels.
//!
//! I_w = max over t of √(1/w ∫ i² dt)            the window moves over the series
//! τ dy/dt = i² − y,  I_eq = √(max y)            a body of one time constant, the series repeated for ever
//!
//! Range   Series of pieces of constant current. A window longer than the series spans its repetition.
//! Source  Definition; use of moving rms against a continuous current: load-cycle rule of a drive maker, checked
//!         below.
//! Caveat  A cable has several time constants; its temperature comes from the heat network, not from here.

/// A piece of a series: how long, and the current.
pub type Piece = (f64, f64);

/// Rms over the whole series; zero for an empty one.
pub fn rms(pieces: &[Piece]) -> f64 {
    let time_s: f64 = pieces.iter().map(|p| p.0).sum();
    if time_s == 0.0 {
        return 0.0;
    }
    (pieces.iter().map(|(dt, i)| dt * i * i).sum::<f64>() / time_s).sqrt()
}

/// Greatest rms over a window that moves over the series and where it begins; over the whole where the series is
/// no longer than the window.
pub fn greatest_rms(pieces: &[Piece], window_s: f64) -> (f64, f64) {
    assert!(0.0 < window_s);
    let mut times = Vec::with_capacity(pieces.len() + 1);
    let mut heats = Vec::with_capacity(pieces.len() + 1);
    let (mut t, mut q) = (0.0, 0.0);
    times.push(t);
    heats.push(q);
    for (dt, i) in pieces {
        t += dt;
        q += dt * i * i;
        times.push(t);
        heats.push(q);
    }
    if t <= window_s {
        return (rms(pieces), 0.0);
    }
    // Between two corners the integral changes in a straight line, so its greatest value has the window begin or
    // end at one.
    let (mut greatest, mut begins) = (0.0, 0.0);
    let mut consider = |from: f64, heat: f64| {
        if greatest < heat {
            (greatest, begins) = (heat, from);
        }
    };
    let (mut ahead, mut behind) = (0, 0);
    for k in 0..times.len() {
        let end = times[k] + window_s;
        if end <= t {
            consider(times[k], heat_at(&times, &heats, &mut ahead, end) - heats[k]);
        }
        let start = times[k] - window_s;
        if 0.0 <= start {
            consider(start, heats[k] - heat_at(&times, &heats, &mut behind, start));
        }
    }
    ((greatest.max(0.0) / window_s).sqrt(), begins)
}

/// The running integral at a time; `from` remembers where the last was found, times only grow.
fn heat_at(times: &[f64], heats: &[f64], from: &mut usize, time: f64) -> f64 {
    while *from + 2 < times.len() && times[*from + 1] < time {
        *from += 1;
    }
    let (t0, t1) = (times[*from], times[*from + 1]);
    let share = if t0 < t1 { (time - t0) / (t1 - t0) } else { 0.0 };
    heats[*from] + share * (heats[*from + 1] - heats[*from])
}

/// Steady current that warms a body of one time constant as far as the series does, repeated for ever.
pub fn equivalent_a(pieces: &[Piece], time_constant_s: f64) -> f64 {
    assert!(0.0 < time_constant_s);
    let pass = |start: f64| {
        let (mut y, mut most) = (start, start);
        for (dt, i) in pieces {
            y += -libm::expm1(-dt / time_constant_s) * (i * i - y);
            most = f64::max(most, y);
        }
        (y, most)
    };
    let time_s: f64 = pieces.iter().map(|p| p.0).sum();
    if time_s == 0.0 {
        return 0.0;
    }
    // The end is linear in the start: what a pass adds from nothing, over what it does not forget.
    let from_nothing = pass(0.0).0;
    let start = from_nothing / -libm::expm1(-time_s / time_constant_s);
    pass(start).1.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A drive maker's load-cycle rule: three times the continuous current for 10 s in 90 s is exactly it.
    #[test]
    fn val_load_cycle_of_a_drive() {
        let cycle = [(10.0, 3.0), (80.0, 0.0)];
        assert!((rms(&cycle) - 1.0).abs() < 1e-12);
        assert!((greatest_rms(&cycle, 90.0).0 - 1.0).abs() < 1e-12);
        assert!((greatest_rms(&cycle, 10.0).0 - 3.0).abs() < 1e-12);
    }

    /// A square wave of 240 s in 600 s bears 1.2531, 1.3847, 1.4418 times the continuous current with 300, 600, 900 s
    /// (closed form of the periodic state, worked independently).
    #[test]
    fn val_square_wave() {
        for (tau, allowed) in [(300.0, 1.2531), (600.0, 1.3847), (900.0, 1.4418)] {
            let feels = equivalent_a(&[(240.0, 1.0), (360.0, 0.0)], tau);
            assert!((1.0 / feels - allowed).abs() < 6e-5, "{tau}: {}", 1.0 / feels);
        }
    }

    #[test]
    fn windows_need_not_fit_the_pieces() {
        let pieces = [(7.0, 1.0), (3.0, 4.0), (11.0, 0.0)];
        // 5 s around the 3 s peak: 3 x 16 + 2 x 1 over 5.
        let (rms, begins) = greatest_rms(&pieces, 5.0);
        assert!((rms - 10f64.sqrt()).abs() < 1e-12 && begins == 5.0);
        assert_eq!(greatest_rms(&[], 10.0).0, 0.0);
    }

    proptest! {
        #[test]
        fn prop_longer_windows_feel_less(seed in proptest::collection::vec((0.5f64..20.0, 0.0f64..500.0), 2..40)) {
            let most = seed.iter().map(|p| p.1).fold(0.0, f64::max);
            let mut last = most;
            for w in [1.0, 10.0, 100.0] {
                // A window twice as long holds at least one half as hot as the whole.
                let doubled = greatest_rms(&seed, 2.0 * w).0;
                let one = greatest_rms(&seed, w).0;
                if 2.0 * w <= seed.iter().map(|p| p.0).sum() {
                    prop_assert!(doubled <= one * (1.0 + 1e-9));
                }
                prop_assert!(one <= most * (1.0 + 1e-9));
                last = last.min(one);
            }
            for tau in [1.0, 60.0, 3600.0] {
                let feels = equivalent_a(&seed, tau);
                prop_assert!(rms(&seed) * (1.0 - 1e-9) <= feels && feels <= most * (1.0 + 1e-9));
            }
            prop_assert!(last >= 0.0);
        }
    }
}
