//! Rings that no band clamp of the shop goes round.

use crate::checks::{Check, Design};
use crate::finding::{Finding, catalog};
use crate::plan::bands_round;

pub(super) const CHECK: Check = Check { code: &catalog::GLUE_NO_BAND, run };

fn run(design: Design<'_>, found: &mut Vec<Finding>) {
    let shop = &design.recipe.shop;
    let Some(first) = shop.bands.first() else { return };
    let ranges: Vec<String> = shop
        .bands
        .iter()
        .map(|band| format!("{} to {}", design.show(band.from.value.across()), design.show(band.to.value.across())))
        .collect();
    for (at, said, built) in design.layers() {
        // All glue-ups of a ring go round the same corners.
        let Some(round) = design.plan.glue.steps.iter().find(|step| step.layer == at && step.round.is_some()) else {
            continue;
        };
        let Some(round) = round.round.map(|round| round.value) else { continue };
        if bands_round(shop, round).next().is_some() {
            continue;
        }
        let message = format!(
            "no band goes round {}: it measures {} over its corners, and the shop's bands hold {}",
            built.id,
            design.show(round.across()),
            ranges.join(", "),
        );
        let off = |band: &crate::resolve::Band| {
            let (from, to) = (band.from.value.across(), band.to.value.across());
            (from - round.across()).max(round.across() - to).mm()
        };
        let nearest = shop.bands.iter().map(off).fold(f64::INFINITY, f64::min);
        let finding = Finding::new(CHECK.code, said.head, message)
            .also(first.span, "the bands are set here")
            .help(
                "it is planned with the shop's `clamps`; name a band that holds it, or join two bands to a longer one",
            )
            .rank(nearest);
        found.push(finding);
    }
}

#[cfg(test)]
mod tests {
    use crate::checks::{Design, check};
    use crate::plan::fixture::bowl;
    use crate::plan::{Asked, plan};
    use crate::quantity::{Count, Diameter, Length};
    use crate::resolve::Band;
    use crate::source::{FileId, Span};
    use crate::workings::{Known, Origin};

    /// What is said of the bowl, whose corners lie 133 to 171 mm across, with one band of such a range.
    fn said(from: f64, to: f64) -> Vec<String> {
        let mut fixture = bowl();
        let span = Span::new(FileId(0), 0, 4);
        let across = |mm| Known::new(Diameter::new(Length::from_mm(mm)), Origin::Shop(span));
        let count = Known::new(Count(1), Origin::Shop(span));
        fixture.recipe.shop.bands = vec![Band { from: across(from), to: across(to), count, span }];
        let plan = plan(&fixture.recipe, &fixture.vessel, Asked::default(), &mut fixture.ledger).value;
        let design = Design { recipe: &fixture.recipe, vessel: &fixture.vessel, plan: &plan };
        let found = check(design.recipe, design.vessel, design.plan);
        found.into_iter().filter(|one| one.code.name == "glue/no-band").map(|one| one.message).collect()
    }

    #[test]
    fn a_band_that_goes_round_no_ring_is_told_with_both_numbers() {
        assert_eq!(said(60.0, 300.0), Vec::<String>::new());
        assert_eq!(said(60.0, 120.0).len(), 4);
        let one = said(60.0, 165.0);
        assert_eq!(one.len(), 1, "{one:?}");
        assert!(one[0].starts_with("no band goes round body.ring-5: it measures "), "{one:?}");
        assert!(one[0].contains("hold 2 23/64\" to 6 1/2\""), "{one:?}");
    }
}
