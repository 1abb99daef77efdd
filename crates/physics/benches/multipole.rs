//! Time of seven cables in a filled round jacket.

use physics::complex::Complex;
use physics::laws::multipole::{Core, Jacket, Rim, temperatures_c};

fn main() {
    divan::main();
}

#[divan::bench]
fn seven_cables(bencher: divan::Bencher) {
    let mut cores = vec![Core {
        x_mm: 0.0,
        y_mm: 0.0,
        radius_mm: 5.0,
        film_k_m_per_w: 0.15,
        loss_w_per_m: 10.0,
    }];
    for k in 0..6 {
        let z = Complex::polar(10.5, 60.0 * f64::from(k));
        cores.push(Core { x_mm: z.re, y_mm: z.im, ..cores[0] });
    }
    let jacket = Jacket { radius_mm: 17.0, filler_w_mk: 0.25, rim: Rim::Held(20.0), cores };
    bencher.bench(|| temperatures_c(divan::black_box(&jacket)));
}
