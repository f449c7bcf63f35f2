//! A round stem bent by a push across its end. Of a strut of radius R with a bore of radius r:
//!
//! ```text
//! section modulus = π/4 · (R⁴ − r⁴) / R
//! stress = push × lever / section modulus
//! ```

use std::f64::consts::PI;

use crate::quantity::{Diameter, Force, Length, Stress, Volume, trig};

use crate::checks::faces::Face;

/// Of a ring or, with an inner radius of 0, of a full round.
pub(super) fn section_modulus(face: Face) -> Volume {
    if face.outer <= Length::ZERO {
        return Volume::from_mm3(0.0);
    }
    let share = (face.inner / face.outer).clamp(0.0, 1.0);
    (face.outer.by(face.outer).over(face.outer)) * (PI / 4.0 * (1.0 - share * share * share * share))
}

/// At the skin of a section, `lever` below the push; without end where there is no wood.
pub(super) fn stress(push: Force, lever: Length, section: Volume) -> Stress {
    if section.mm3() <= 0.0 {
        return Stress::from_n_per_mm2(if lever > Length::ZERO { f64::INFINITY } else { 0.0 });
    }
    Stress::from_n_per_mm2(push.newtons() * lever.mm().max(0.0) / section.mm3())
}

/// The least full round that bears it.
pub(super) fn least_round(push: Force, lever: Length, bears: Stress) -> Diameter {
    let section = push.newtons() * lever.mm().max(0.0) / bears.n_per_mm2().max(f64::MIN_POSITIVE);
    Diameter::new(Length::from_mm(trig::pow(32.0 * section / PI, 1.0 / 3.0)))
}

#[cfg(test)]
mod tests {
    use super::{least_round, section_modulus, stress};
    use crate::checks::faces::Face;
    use crate::quantity::{Force, Length, Stress};

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    #[test]
    fn rounds_and_tubes_by_hand() {
        // Handbook form π d³ / 32: 10 mm gives 98.175 mm³; a tube 40 by 30: π (40⁴ − 30⁴) / (32 × 40) = 4295.1 mm³.
        let rod = section_modulus(Face { outer: mm(5.0), inner: mm(0.0) });
        assert!((rod.mm3() - 98.174_77).abs() < 1e-4);
        let tube = section_modulus(Face { outer: mm(20.0), inner: mm(15.0) });
        assert!((tube.mm3() - 4_295.146).abs() < 1e-2, "{}", tube.mm3());
        // 50 N on an arm of 100 mm: 5000 N mm over 98.175 mm³ is 50.93 N/mm².
        let bent = stress(Force::from_newtons(50.0), mm(100.0), rod);
        assert!((bent.n_per_mm2() - 50.93).abs() < 0.01);
    }

    /// The moment of the stresses, added up over thin strips of the section, is the push times its arm.
    #[test]
    fn the_stresses_of_a_section_balance_the_push() {
        let (outer, inner) = (17.0_f64, 9.0_f64);
        let (arm, push, steps) = (80.0, 25.0, 200_000);
        let skin =
            stress(Force::from_newtons(push), mm(arm), section_modulus(Face { outer: mm(outer), inner: mm(inner) }));
        let half = |r: f64, y: f64| (r * r - y * y).max(0.0).sqrt();
        let dy = 2.0 * outer / f64::from(steps);
        let moment: f64 = (0..steps)
            .map(|i| {
                let y = -outer + dy * (f64::from(i) + 0.5);
                let width = 2.0 * (half(outer, y) - half(inner, y));
                skin.n_per_mm2() * y / outer * width * dy * y
            })
            .sum();
        assert!((moment / (push * arm) - 1.0).abs() < 1e-6, "{moment}");
    }

    #[test]
    fn the_least_round_bears_just_that() {
        let (push, bears) = (Force::from_newtons(50.0), Stress::from_n_per_mm2(1.5));
        let least = least_round(push, mm(60.0), bears);
        let got = stress(push, mm(60.0), section_modulus(Face { outer: least.radius(), inner: mm(0.0) }));
        assert!((got.n_per_mm2() - 1.5).abs() < 1e-9);
        // By hand: 3000 / 1.5 = 2000 mm³; ∛(32 × 2000 / π) = 27.31 mm.
        assert!((least.across().mm() - 27.31).abs() < 0.01);
    }
}
