//! How a board of plies bends when its plies want different lengths.

use crate::quantity::{Length, Ratio};

/// One ply, the downmost first.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strip {
    pub(super) thick: Length,
    /// What it would do alone.
    pub(super) swelling: Ratio,
}

/// How far the middle of a board stands off a straightedge laid across its width. All plies count as equally
/// stiff, with parallel grain; then bending is the first moment of their strains:
///
/// ```text
/// 1/R = 12/h³ · Σ ε (b² − a²)/2, a and b from the middle of the board to the ply's faces
/// sagitta = width² / 8R
/// ```
///
/// For two plies this is the bimetal strip of S. Timoshenko, *Analysis of bi-metal thermostats*, J. Opt. Soc. Am. 11
/// (1925), with equal moduli.
pub(super) fn sagitta(plies: &[Strip], width: Length) -> Length {
    let h = plies.iter().map(|ply| ply.thick).sum::<Length>();
    if h <= Length::ZERO {
        return Length::ZERO;
    }
    let mut from = h * -0.5;
    let mut moment = 0.0;
    for ply in plies {
        let to = from + ply.thick;
        let (a, b) = (from / h, to / h);
        moment += ply.swelling.value() * (b * b - a * a) / 2.0;
        from = to;
    }
    (width * (width / h * (12.0 * moment) / 8.0)).abs()
}

#[cfg(test)]
#[allow(clippy::disallowed_methods, reason = "what is measured by other means is no output")]
mod tests {
    use proptest::prelude::*;

    use super::{Strip, sagitta};
    use crate::quantity::{Length, Ratio};

    fn plies(of: &[(f64, f64)]) -> Vec<Strip> {
        of.iter().map(|(thick, e)| Strip { thick: Length::from_mm(*thick), swelling: Ratio::of(*e) }).collect()
    }

    fn cup(of: &[(f64, f64)], width: f64) -> f64 {
        sagitta(&plies(of), Length::from_mm(width)).mm()
    }

    /// Timoshenko (1925), equation 4: curvature of two strips, m = thickness ratio, n = ratio of moduli.
    fn timoshenko(one: (f64, f64), two: (f64, f64)) -> f64 {
        let (m, n, h) = (one.0 / two.0, 1.0, one.0 + two.0);
        6.0 * (two.1 - one.1) * (1.0 + m).powi(2)
            / (h * (3.0 * (1.0 + m).powi(2) + (1.0 + m * n) * (m * m + 1.0 / (m * n))))
    }

    /// Stretch and curvature for which thin layers pull and turn with no resultant: least squares over their heights.
    fn balanced(of: &[(f64, f64)]) -> f64 {
        let steps = 4000;
        let (mut z0, mut sums) = (0.0, [0.0; 5]);
        for (thick, e) in of {
            let dz = thick / f64::from(steps);
            for i in 0..steps {
                let z = z0 + dz * (f64::from(i) + 0.5);
                for (sum, value) in sums.iter_mut().zip([1.0, z, z * z, *e, e * z]) {
                    *sum += value * dz;
                }
            }
            z0 += thick;
        }
        let [s, z, zz, e, ez] = sums;
        (s * ez - z * e) / (s * zz - z * z)
    }

    #[test]
    fn balanced_boards_stay_flat() {
        assert!(cup(&[(6.0, 0.01), (3.0, 0.0), (6.0, 0.01)], 300.0) < 1e-12);
        assert!(cup(&[(6.0, 0.01), (9.0, 0.01)], 300.0) < 1e-12);
        assert!(cup(&[], 300.0) < 1e-12);
    }

    #[test]
    fn maple_on_walnut_by_hand() {
        // Equal plies: 1/R = 1.5 × Δε / h; 1.5 × 0.00316 / 20 = 0.000237 per mm; 100² × 0.000237 / 8 = 0.296 mm.
        let got = cup(&[(10.0, 0.003_53 * 4.0), (10.0, 0.002_74 * 4.0)], 100.0);
        assert!((got - 0.296_25).abs() < 1e-9, "{got}");
    }

    proptest! {
        #[test]
        fn two_plies_bend_as_timoshenko_says(a in 1.0..30.0_f64, b in 1.0..30.0_f64, e in -0.03..0.03_f64) {
            let got = cup(&[(a, 0.0), (b, e)], 100.0);
            let wanted = (timoshenko((a, 0.0), (b, e)) * 1e4 / 8.0).abs();
            prop_assert!((got - wanted).abs() <= 1e-9 * wanted.max(1e-6), "{got} {wanted}");
        }

        #[test]
        fn many_plies_bend_as_thin_layers_in_balance(
            of in prop::collection::vec((1.0..20.0_f64, -0.03..0.03_f64), 2..7),
        ) {
            let (got, wanted) = (cup(&of, 100.0), (balanced(&of) * 1e4 / 8.0).abs());
            prop_assert!((got - wanted).abs() <= 1e-5 * wanted + 1e-6, "{got} {wanted}");
        }
    }
}
