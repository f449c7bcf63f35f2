//! Readings of the bench that are no lengths: angles, speeds, temperature, moisture, finish.

use std::sync::LazyLock;

use crate::finding::{Finding, catalog, nearest, or_list};
use crate::quantity::{Angle, Dimension, Duration, Hours, MoistureContent, Money, Speed, Temperature, WEEK, Weekday};
use crate::syntax::{Item, ItemKind};
use crate::tables::{Finish, find_finish, finishes};
use crate::vocabulary::USES;
use crate::workings::{Known, Origin};

use super::recipe::{SpeedLimits, Use};
use super::scope::Scope;
use super::split::{Call, word_of};
use super::value::Value;
use super::{Resolver, findings, read};

/// No lathe for vessels turns faster.
const SPEEDS: std::ops::RangeInclusive<f64> = 1.0..=10_000.0;
/// Glue is used between freezing and the hottest of summers.
const TEMPERATURES: std::ops::RangeInclusive<f64> = 0.0..=50.0;
/// From oven-dry to where shrinkage begins (Wood Handbook, chapter 13).
const MOISTURES: std::ops::RangeInclusive<f64> = 0.0..=30.0;

/// A miter that is off by more is no setting: common practice wants a tenth of a degree.
pub(super) const MITER_ERRORS: std::ops::RangeInclusive<f64> = 0.0..=2.0;
/// From upright to lying flat.
pub(super) const TILTS: std::ops::RangeInclusive<f64> = 0.0..=90.0;

/// Within bounds in degrees.
pub(super) fn angle(
    scope: &Scope,
    item: &Item,
    word: &str,
    bounds: std::ops::RangeInclusive<f64>,
) -> Result<Angle, Finding> {
    let degrees = of(scope, item, (word, "an angle, such as `0.1°`"), (Dimension::ANGLE, "°"), bounds)?;
    Ok(Angle::from_degrees(degrees))
}

/// A point on the scale.
pub(super) fn temperature(scope: &Scope, item: &Item, word: &str) -> Result<Temperature, Finding> {
    let wants = "a temperature, such as `20 degC`";
    let celsius = of(scope, item, (word, wants), (Dimension::TEMPERATURE, "°C"), TEMPERATURES)?;
    Ok(Temperature::from_celsius(celsius))
}

/// Of wood.
pub(super) fn moisture(scope: &Scope, item: &Item, word: &str) -> Result<MoistureContent, Finding> {
    let wants = "a moisture content, such as `8%mc`";
    let percent = of(scope, item, (word, wants), (Dimension::MOISTURE, "%"), MOISTURES)?;
    Ok(MoistureContent::from_percent(percent))
}

/// The slower first, however they are written.
pub(super) fn speeds(scope: &Scope, item: &Item, origin: Origin) -> Result<SpeedLimits, Finding> {
    let wants = "two speeds, such as `250 rpm .. 3000 rpm`";
    let ItemKind::Range(from, to) = &item.kind else {
        return Err(findings::wrong_kind(item, "speeds", wants));
    };
    let speed = |item: &Item| {
        let rpm = of(scope, item, ("speeds", "a speed, such as `250 rpm`"), (Dimension::SPEED, "rpm"), SPEEDS)?;
        Ok(Known::new(Speed::from_rpm(rpm), origin))
    };
    let (from, to) = (speed(from)?, speed(to)?);
    let (slow, fast) = if from.value <= to.value { (from, to) } else { (to, from) };
    Ok(SpeedLimits { slow, fast })
}

/// More is no price of a board.
const MOST_MONEY: f64 = 1e6;

/// A bare number.
pub(super) fn money(scope: &Scope, item: &Item) -> Result<Money, Finding> {
    let wants = "an amount of money as a bare number, such as `12.50`";
    let text = scope.tree.text(item.span);
    match read::value(scope, item, "price", wants)? {
        Value::Bare(amount, _) if (0.0..=MOST_MONEY).contains(&amount) => Ok(Money(amount)),
        Value::Bare(..) => {
            let message = format!("`price {text}` is out of all reason; it can be 0 to {MOST_MONEY}");
            Err(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message)
                .help("give what one board costs, or what a board foot or liter of it does with `per`"))
        }
        other @ Value::Of(..) => Err(findings::wrong_dimension(item.span, "price", wants, text, other.words())),
    }
}

/// Two hours of the day at least an hour apart.
pub(super) fn hours(scope: &Scope, item: &Item) -> Result<Hours, Finding> {
    let wants = "two hours of the day, such as `9 .. 18`";
    let ItemKind::Range(from, to) = &item.kind else {
        return Err(findings::wrong_kind(item, "hours", wants));
    };
    let hour = |item: &Item| match read::value(scope, item, "hours", wants)? {
        Value::Bare(hour, _) => Ok(hour),
        other @ Value::Of(..) => {
            Err(findings::wrong_dimension(item.span, "hours", wants, scope.tree.text(item.span), other.words()))
        }
    };
    let (from, to) = (hour(from)?, hour(to)?);
    if from < 0.0 || to > 24.0 || to - from < 1.0 {
        let message = format!(
            "`hours {}` is no day of work: it begins at 0 or later, ends at 24 or earlier, and is an hour long at least",
            scope.tree.text(item.span)
        );
        return Err(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message).help(
            "`hours 9 .. 18` is from nine in the morning to six in the evening; `hours 0 .. 24` is round the clock",
        ));
    }
    Ok(Hours { from: Duration::from_minutes(from * 60.0), to: Duration::from_minutes(to * 60.0) })
}

/// As recipes write them.
static DAYS: LazyLock<[&str; 7]> = LazyLock::new(|| WEEK.map(Weekday::word));

/// A list of days, each once, Monday first; never all.
pub(super) fn days_off(scope: &Scope, item: &Item) -> Result<Vec<Weekday>, Finding> {
    let ItemKind::List(elements) = &item.kind else {
        return Err(findings::wrong_kind(item, "days-off", "days of the week in square brackets, such as `[sat sun]`"));
    };
    let mut off = Vec::with_capacity(elements.len());
    for element in elements {
        let word = read::choice(scope, &element.item, "days-off", &*DAYS)?;
        off.extend(WEEK.into_iter().filter(|day| day.word() == word));
    }
    off.sort_unstable();
    off.dedup();
    if off.len() == WEEK.len() {
        let message = "no day of the week is left to work on".to_owned();
        return Err(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message)
            .help("leave one day out of `days-off` at least"));
    }
    Ok(off)
}

/// A reading in the base unit of its dimension, which `unit` names for a sentence.
fn of(
    scope: &Scope,
    item: &Item,
    (word, wants): (&str, &str),
    (dimension, unit): (Dimension, &str),
    bounds: std::ops::RangeInclusive<f64>,
) -> Result<f64, Finding> {
    let text = scope.tree.text(item.span);
    match read::value(scope, item, word, wants)? {
        Value::Of(number, is) if is == dimension && bounds.contains(&number) => Ok(number),
        Value::Of(_, is) if is == dimension => {
            let message = format!(
                "`{word} {text}` is out of all reason; it can be {} to {} {unit}",
                bounds.start(),
                bounds.end(),
            );
            Err(Finding::new(&catalog::QUANTITY_OUT_OF_RANGE, item.span, message)
                .help(format!("`{word}` wants {wants}")))
        }
        other @ (Value::Of(..) | Value::Bare(..)) => {
            Err(findings::wrong_dimension(item.span, word, wants, text, other.words()))
        }
    }
}

impl Resolver<'_> {
    /// What the vessel is for.
    pub(super) fn holds(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Known<Use>> {
        let item = call.argument(0)?.first()?;
        let all = [Use::Display, Use::DryGoods, Use::DryFood, Use::Food, Use::Drink, Use::Water];
        let word = self.told(read::choice(scope, item, "holds", USES))?;
        all.into_iter()
            .find(|purpose| purpose.word() == word)
            .map(|purpose| Known::new(purpose, Origin::Written(call.span)))
    }

    /// What goes on it.
    pub(super) fn finish(&mut self, scope: &Scope, call: &Call<'_>) -> Option<Known<&'static Finish>> {
        let item = call.argument(0)?.first()?;
        let Some(name) = word_of(&scope.tree, item) else {
            self.say(findings::wrong_kind(item, "finish", "the name of a finish"));
            return None;
        };
        let found = find_finish(name);
        if found.is_none() {
            self.say(unknown_finish(item, name));
        }
        found.map(|finish| Known::new(finish, Origin::Written(call.span)))
    }
}

fn unknown_finish(item: &Item, name: &str) -> Finding {
    let known: Vec<&str> = finishes().iter().map(|finish| finish.key.as_str()).collect();
    let near = nearest(name, known.iter().copied());
    let finding = Finding::new(&catalog::FINISH_UNKNOWN, item.span, format!("no finish is known as `{name}`"));
    if near.is_empty() {
        finding.help(format!("known are {}", or_list(&known)))
    } else {
        findings::meant(finding, item.span, &near)
    }
}

#[cfg(test)]
mod tests {
    use super::Use;
    use crate::vocabulary::USES;

    #[test]
    fn every_use_of_the_vocabulary_is_known() {
        let all = [Use::Display, Use::DryGoods, Use::DryFood, Use::Food, Use::Drink, Use::Water];
        assert_eq!(all.map(Use::word).as_slice(), USES);
    }
}
