//! The shop: what the recipe says, what used files say, what is assumed when nobody does.

#![allow(clippy::wildcard_enum_match_arm, reason = "which words can stand there, the vocabulary says")]

use crate::quantity::{Angle, Count, Diameter, Duration, Hours, Length, MoistureContent, System, Temperature, Weekday};
use crate::source::Span;
use crate::syntax::{Item, ItemKind};
use crate::tables::drill_bits::{DrillBit, Series, drill_bits};
use crate::tables::{Glue, find_glue, glues};
use crate::vocabulary::{Bound, ClauseId};
use crate::workings::{Known, Origin};

use super::recipe::{Band, ForSale, Shop, SpeedLimits, StockBoard};
use super::scope::Scope;
use super::split::{Call, word_of};
use super::{Resolver, bench, findings, read};

/// What a `shop` block sets; the rest is `None`.
#[derive(Debug, Clone, Default)]
pub(super) struct ShopSettings {
    kerf: Option<Known<Length>>,
    sanding: Option<Known<Length>>,
    allowance: Option<Known<Length>>,
    safe_piece: Option<Known<Length>>,
    hold: Option<Known<Length>>,
    least_glue: Option<Known<Length>>,
    least_wall: Option<Known<Length>>,
    clamps: Option<Known<Count>>,
    glue: Option<Known<&'static Glue>>,
    bits: Option<Vec<Known<Diameter>>>,
    faceplates: Option<Vec<Known<Diameter>>>,
    screws: Option<Known<Length>>,
    angle_error: Option<Known<Angle>>,
    length_error: Option<Known<Length>>,
    tilt: Option<Known<Angle>>,
    narrow_rip: Option<Known<Length>>,
    swing: Option<Known<Diameter>>,
    speeds: Option<SpeedLimits>,
    temperature: Option<Known<Temperature>>,
    moisture: Option<Known<MoistureContent>>,
    pub(super) boards: Option<Vec<StockBoard>>,
    pub(super) for_sale: Option<Vec<ForSale>>,
    pub(super) bands: Option<Vec<Band>>,
    jointing: Option<Known<Length>>,
    end_trim: Option<Known<Length>>,
    short_rip: Option<Known<Length>>,
    currency: Option<String>,
    hours: Option<Known<Hours>>,
    days_off: Option<Vec<Weekday>>,
    cauls: Option<Known<Count>>,
}

/// The glue of a recipe that names none.
const DEFAULT_GLUE: &str = "pva-d2";

impl ShopSettings {
    /// These settings, and `other`'s where these say nothing.
    pub(super) fn or(self, other: Self) -> Self {
        Self {
            kerf: self.kerf.or(other.kerf),
            sanding: self.sanding.or(other.sanding),
            allowance: self.allowance.or(other.allowance),
            safe_piece: self.safe_piece.or(other.safe_piece),
            hold: self.hold.or(other.hold),
            least_glue: self.least_glue.or(other.least_glue),
            least_wall: self.least_wall.or(other.least_wall),
            clamps: self.clamps.or(other.clamps),
            glue: self.glue.or(other.glue),
            bits: self.bits.or(other.bits),
            faceplates: self.faceplates.or(other.faceplates),
            screws: self.screws.or(other.screws),
            angle_error: self.angle_error.or(other.angle_error),
            length_error: self.length_error.or(other.length_error),
            tilt: self.tilt.or(other.tilt),
            narrow_rip: self.narrow_rip.or(other.narrow_rip),
            swing: self.swing.or(other.swing),
            speeds: self.speeds.or(other.speeds),
            temperature: self.temperature.or(other.temperature),
            moisture: self.moisture.or(other.moisture),
            boards: self.boards.or(other.boards),
            for_sale: self.for_sale.or(other.for_sale),
            bands: self.bands.or(other.bands),
            jointing: self.jointing.or(other.jointing),
            end_trim: self.end_trim.or(other.end_trim),
            short_rip: self.short_rip.or(other.short_rip),
            currency: self.currency.or(other.currency),
            hours: self.hours.or(other.hours),
            days_off: self.days_off.or(other.days_off),
            cauls: self.cauls.or(other.cauls),
        }
    }

    /// With the stated defaults; all are common practice unless the reason says more.
    pub(super) fn complete(self, units: System) -> Shop {
        let or = |setting: Option<Known<Length>>, length: Length, why: &'static &'static str| {
            setting.unwrap_or(Known::new(length, Origin::Default(why)))
        };
        Shop {
            kerf: or(self.kerf, Length::from_inches(0.125), &"a full-kerf table saw blade cuts 1/8 in"),
            sanding: or(self.sanding, Length::from_mm(0.4), &"flattening takes 0.4 mm off each face of a ring"),
            allowance: self.allowance(),
            screws: or(self.screws, Length::from_mm(20.0), &"screws of 20 mm, 3/4 in, are usual in a faceplate"),
            bits: self.bits.unwrap_or_else(|| sold_bits(units)),
            faceplates: self.faceplates.unwrap_or_else(usual_faceplates),
            safe_piece: or(self.safe_piece, Length::from_mm(20.0), &"under 20 mm a segment wants a special holder"),
            hold: or(self.hold, Length::from_mm(150.0), &"the last 150 mm of a strip stay under the clamp"),
            least_glue: or(self.least_glue, Length::from_mm(6.0), &"a glue face of 6 mm is the least between layers"),
            least_wall: or(self.least_wall, Length::from_mm(3.0), &"a wall of 3 mm is delicate work already"),
            clamps: self.clamps.unwrap_or(Known::new(Count(2), Origin::Default(&"two glue-ups at once"))),
            angle_error: self
                .angle_error
                .unwrap_or(Known::new(Angle::from_degrees(0.1), Origin::Default(&"a careful setting is within 0.1°"))),
            length_error: or(self.length_error, Length::from_mm(0.1), &"a clean stop repeats within 0.1 mm"),
            tilt: self.tilt.unwrap_or(Known::new(Angle::from_degrees(45.0), Origin::Default(&"a saw tilts to 45°"))),
            narrow_rip: or(self.narrow_rip, Length::from_mm(6.0), &"strips under 6 mm are ripped with a jig"),
            swing: self.swing,
            speeds: self.speeds,
            temperature: self
                .temperature
                .unwrap_or(Known::new(Temperature::from_celsius(20.0), Origin::Default(&"a shop of 20 °C"))),
            moisture: self.moisture,
            boards: self.boards.unwrap_or_default(),
            for_sale: self.for_sale.unwrap_or_default(),
            jointing: or(
                self.jointing,
                Length::from_mm(3.0),
                &"3 mm, 1/8 in, off each edge make a rough board straight",
            ),
            end_trim: or(
                self.end_trim,
                Length::from_mm(25.0),
                &"the last 25 mm, 1 in, of a rough board are often checked",
            ),
            short_rip: or(
                self.short_rip,
                Length::from_mm(300.0),
                &"under 300 mm, 12 in, a board is not ripped along a fence",
            ),
            currency: self.currency.unwrap_or_default(),
            hours: self.hours.unwrap_or(Known::new(
                Hours { from: Duration::from_minutes(540.0), to: Duration::from_minutes(1080.0) },
                Origin::Default(&"a day at the bench is from 9 to 18 o'clock"),
            )),
            days_off: self.days_off.unwrap_or_default(),
            bands: self.bands.unwrap_or_default(),
            cauls: self.cauls,
        }
    }

    /// The turning allowance where no layer says its own.
    pub(super) fn allowance(&self) -> Known<Length> {
        let assumed = Origin::Default(&"3 mm a side is left for turning");
        self.allowance.unwrap_or(Known::new(Length::from_mm(3.0), assumed))
    }

    /// The glue where no layer names one.
    pub(super) fn glue(&self) -> Option<Known<&'static Glue>> {
        let assumed = || {
            let reason = &"white or yellow carpenter's glue, the usual one for dry decorative work";
            find_glue(DEFAULT_GLUE).map(|glue| Known::new(glue, Origin::Default(reason)))
        };
        self.glue.or_else(assumed)
    }
}

/// Every bit of one scale, each size once: a tenon for one scale is loose in a hole of the other.
fn sold_bits(units: System) -> Vec<Known<Diameter>> {
    let series = if units == System::Inch { Series::Inch } else { Series::Metric };
    let mut all = rising(drill_bits().iter().filter(|bit| bit.series == series).map(DrillBit::diameter).collect());
    all.dedup_by_key(|bit| bit.value);
    all
}

fn usual_faceplates() -> Vec<Known<Diameter>> {
    let usual = Origin::Default(&"faceplates of 50, 75, 100 and 150 mm (2, 3, 4 and 6 in) are usual");
    [50.0, 75.0, 100.0, 150.0].map(|mm| Known::new(Diameter::new(Length::from_mm(mm)), usual)).to_vec()
}

fn rising(mut all: Vec<Known<Diameter>>) -> Vec<Known<Diameter>> {
    all.sort_by(|a, b| a.value.across().mm().total_cmp(&b.value.across().mm()));
    all
}

impl Shop {
    /// The bench of a recipe that says nothing of it: every setting at its stated default.
    #[must_use]
    pub fn usual(units: System) -> Self {
        ShopSettings::default().complete(units)
    }
}

impl Resolver<'_> {
    pub(super) fn shop_settings(&mut self, call: &Call<'_>, scope: &Scope) -> ShopSettings {
        let mut settings = ShopSettings::default();
        for clause in &call.clauses {
            let Some(item) = clause.argument.first() else { continue };
            let word = clause.clause.word;
            let length = |resolver: &mut Self| {
                let length = read::length(scope, item, word, Bound::NotNegative);
                resolver.told(length).map(|length| Known::new(length, Origin::Shop(clause.span)))
            };
            match clause.clause.id {
                ClauseId::Kerf => settings.kerf = length(self),
                ClauseId::Sanding => settings.sanding = length(self),
                ClauseId::Allowance => settings.allowance = length(self),
                ClauseId::SafePiece => settings.safe_piece = length(self),
                ClauseId::Hold => settings.hold = length(self),
                ClauseId::LeastGlue => settings.least_glue = length(self),
                ClauseId::LeastWall => settings.least_wall = length(self),
                ClauseId::Clamps => settings.clamps = self.one_or_more(scope, item, word, clause.span),
                ClauseId::Cauls => settings.cauls = self.one_or_more(scope, item, word, clause.span),
                ClauseId::Jointing => settings.jointing = length(self),
                ClauseId::EndTrim => settings.end_trim = length(self),
                ClauseId::ShortRip => settings.short_rip = length(self),
                ClauseId::Currency => settings.currency = self.told(read::text(item, word)).map(str::to_owned),
                ClauseId::Hours => {
                    let hours = self.told(bench::hours(scope, item));
                    settings.hours = hours.map(|hours| Known::new(hours, Origin::Shop(clause.span)));
                }
                ClauseId::DaysOff => settings.days_off = self.told(bench::days_off(scope, item)),
                ClauseId::Glue => {
                    settings.glue =
                        self.named_glue(scope, item).map(|glue| Known::new(glue, Origin::Shop(clause.span)));
                }
                ClauseId::Bits => settings.bits = self.diameters(scope, item, word, Origin::Shop(clause.span)),
                ClauseId::Faceplates => {
                    settings.faceplates = self.diameters(scope, item, word, Origin::Shop(clause.span));
                }
                ClauseId::ScrewLength => settings.screws = length(self),
                ClauseId::AngleError => {
                    let angle = self.told(bench::angle(scope, item, word, bench::MITER_ERRORS));
                    settings.angle_error = angle.map(|angle| Known::new(angle, Origin::Shop(clause.span)));
                }
                ClauseId::Tilt => {
                    let angle = self.told(bench::angle(scope, item, word, bench::TILTS));
                    settings.tilt = angle.map(|angle| Known::new(angle, Origin::Shop(clause.span)));
                }
                ClauseId::LengthError => settings.length_error = length(self),
                ClauseId::NarrowRip => settings.narrow_rip = length(self),
                ClauseId::Swing => settings.swing = length(self).map(|swing| swing.map(Diameter::new)),
                ClauseId::Speeds => settings.speeds = self.told(bench::speeds(scope, item, Origin::Shop(clause.span))),
                ClauseId::RoomTemperature => {
                    let read = self.told(bench::temperature(scope, item, word));
                    settings.temperature = read.map(|read| Known::new(read, Origin::Shop(clause.span)));
                }
                ClauseId::StockMoisture => {
                    let read = self.told(bench::moisture(scope, item, word));
                    settings.moisture = read.map(|read| Known::new(read, Origin::Shop(clause.span)));
                }
                _ => {}
            }
        }
        settings
    }

    /// A count that is none of nothing.
    pub(super) fn one_or_more(&mut self, scope: &Scope, item: &Item, word: &str, clause: Span) -> Option<Known<Count>> {
        let count = self.told(read::count(scope, item, word))?;
        if count.0 == 0 {
            self.say(findings::at_least_one(item.span, word, scope.tree.text(item.span)));
            return None;
        }
        Some(Known::new(count, Origin::Shop(clause)))
    }

    /// A list of diameters, the narrowest first.
    fn diameters(&mut self, scope: &Scope, item: &Item, word: &str, origin: Origin) -> Option<Vec<Known<Diameter>>> {
        let ItemKind::List(elements) = &item.kind else {
            self.say(findings::wrong_kind(item, word, "lengths in square brackets, such as `[1/4 3/8 1/2]`"));
            return None;
        };
        let mut all = Vec::with_capacity(elements.len());
        for element in elements {
            let length = read::length(scope, &element.item, word, Bound::Positive);
            all.push(Known::new(Diameter::new(self.told(length)?), origin));
        }
        if all.is_empty() {
            self.say(findings::at_least_one(item.span, word, scope.tree.text(item.span)));
            return None;
        }
        Some(rising(all))
    }

    pub(super) fn named_glue(&mut self, scope: &Scope, item: &Item) -> Option<&'static Glue> {
        let Some(name) = word_of(&scope.tree, item) else {
            self.say(findings::wrong_kind(item, "glue", "the name of a glue"));
            return None;
        };
        let found = find_glue(name);
        if found.is_none() {
            self.say(findings::unknown_glue(item.span, name, glues().iter().map(|glue| glue.key.as_str())));
        }
        found
    }
}
