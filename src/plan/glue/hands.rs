//! What the hands do before the glue, and how long that takes: one table of figures from common practice. The
//! trade gives ranges (to glue halves 10 to 15 min a ring, to flatten their ends and close it 5 to 10, to flatten
//! faces 5 to 10, to stack 10 to 15, all give or take a half) that hold spreading too; these stand near their middle,
//! less the spreading.

use crate::quantity::{Count, Duration};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::{GlueWork, Preparation};

macro_rules! usual {
    ($($name:ident $minutes:literal $words:literal;)+) => {
        $(const $name: Known<Duration> = Known::new(Duration::from_minutes($minutes), Origin::Default(&$words));)+
    };
}

usual! {
    TRY_A_PAIR 2.0 "2 min to clean and try the parts of a short run, by common practice";
    TRY_A_HALF 4.0 "4 min to clean, lay out and dry-fit half a ring, by common practice";
    FLATTEN_ENDS 8.0 "8 min to flatten the ends of both halves and try them, by common practice";
    FACES_AND_SETTING 12.0 "8 min to flatten two faces, 4 min to set and center, by common practice";
    FACE_AND_SETTING 8.0 "4 min to flatten a face, 4 min to set and center, by common practice";
    SETTING 4.0 "4 min to set and center, by common practice";
    BORING 10.0 "10 min to bore a hole and turn a plug to fit, by common practice";
    A_PLY 4.0 "4 min to plane both faces of a ply, by common practice";
    AN_EDGED_PART 3.0 "3 min to plane the edges of a part and try them, by common practice";
}

static PARTS: Formula = Formula {
    gives: "time to make parts ready for glue",
    words: "parts × time for a part",
    inputs: &["parts", "time for a part"],
};

/// From taking up the parts to the first glue.
pub(super) fn before_glue(prepare: Preparation, work: GlueWork, ledger: &mut Ledger) -> Known<Duration> {
    let mut parts = |parts: u32, each: Known<Duration>| {
        let counted = Known::new(Count(parts), Origin::Default(&"counted"));
        ledger.work(&PARTS, (counted, each), |(parts, each)| each * f64::from(parts.0))
    };
    match (prepare, work) {
        (Preparation::PlanePlies, GlueWork::Board { plies, .. }) => parts(plies, A_PLY),
        (Preparation::PlaneEdges, GlueWork::Panel { parts: count, .. }) => parts(count, AN_EDGED_PART),
        (Preparation::PlanePlies, _) => A_PLY,
        (Preparation::PlaneEdges, _) => AN_EDGED_PART,
        (Preparation::DryFit, GlueWork::Stack { .. } | GlueWork::SetOpen { .. }) => SETTING,
        (Preparation::DryFit, GlueWork::Run { .. } | GlueWork::Spacers { .. }) => TRY_A_PAIR,
        (Preparation::DryFit, _) => TRY_A_HALF,
        (Preparation::FlattenHalfEnds, _) => FLATTEN_ENDS,
        (Preparation::FlattenFaces, _) => FACES_AND_SETTING,
        (Preparation::FlattenBelow | Preparation::FlattenAbove, _) => FACE_AND_SETTING,
        (Preparation::BoreHole, _) => BORING,
    }
}
