//! The glue-ups in the order in which they are done, each with its number and its clamp in words.

use crate::plan::GlueStep;

use super::glue_schedule::clamp_name;
use super::sheet::Sheet;

/// One glue-up as drawing and calendar tell it.
pub(super) struct Row<'a> {
    /// Its number in the schedule, from 1.
    pub number: usize,
    pub step: &'a GlueStep,
    /// `ring-3 half 1`.
    pub words: String,
    /// `band 150 mm to 300 mm`; none: it is rubbed on and left alone.
    pub clamp: Option<String>,
    /// The numbers of those it waits for, rising.
    pub after: Vec<usize>,
}

/// All of them.
pub(super) fn rows<'a>(sheet: &Sheet<'a>) -> Vec<Row<'a>> {
    let schedule = &sheet.plan.glue;
    let mut numbers = vec![0_usize; schedule.steps.len()];
    for (number, step) in schedule.order.iter().enumerate() {
        if let Some(of) = numbers.get_mut(*step) {
            *of = number + 1;
        }
    }
    let row = |(at, step): (usize, &'a GlueStep)| {
        let mut after: Vec<usize> = step.after.iter().filter_map(|before| numbers.get(*before).copied()).collect();
        after.sort_unstable();
        let clamps = step.takes.and_then(|at| schedule.clamps.get(at));
        Row {
            number: at + 1,
            step,
            words: sheet.step_in_words(step),
            clamp: clamps.map(|clamps| clamp_name(sheet, clamps.kind)),
            after,
        }
    };
    schedule.order.iter().filter_map(|at| schedule.steps.get(*at)).enumerate().map(row).collect()
}
