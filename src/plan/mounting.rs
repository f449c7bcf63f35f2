//! How each part is held on the lathe: waste block, faceplate, screws, or a chuck.

use crate::finding::Finding;
use crate::geometry::mount::{self, JAWS_50, LEAST_BLOCK, METAL_CLEARANCE};
use crate::geometry::{BuiltLayer, Contact, LayerShape, Vessel};
use crate::quantity::{Area, Diameter, Length};
use crate::resolve::{Mount, PartKind, Recipe};
use crate::workings::{Formula, Known, Ledger, Origin};

use super::mounting_checks;

/// What a parting tool takes of the block's side toward the work.
const PARTING_CUT: Length = Length::from_mm(3.0);
/// Of a faceplate where its screws go through.
const PLATE_THICK: Length = Length::from_mm(6.0);

static FACE: Formula = Formula {
    gives: "face on the waste block",
    words: "2 × outside radius of the blank of the layer that is glued to the block",
    inputs: &["outside radius of the blank"],
};
static HOLLOW: Formula = Formula {
    gives: "hole in that face",
    words: "2 × inside radius of that blank",
    inputs: &["inside radius of the blank"],
};
static FOOT: Formula = Formula {
    gives: "finished face toward the block",
    words: "2 × radius of the outside curve at that end",
    inputs: &["height of that end"],
};

/// How one part is held.
#[derive(Debug, Clone, Copy)]
pub struct PartMount {
    /// Which part.
    pub part: PartKind,
    /// The layer that is glued to the block: the body's first, the lid's last.
    pub layer: usize,
    /// Across that end of the part, finished.
    pub foot: Known<Diameter>,
    /// Of the waste block: index into the recipe's woods, when the recipe says it.
    pub wood: Option<usize>,
    /// Across the waste block, as sawn.
    pub block: Known<Diameter>,
    /// Of the waste block.
    pub thickness: Known<Length>,
    /// Where block and work touch, as glued.
    pub glue_area: Known<Area>,
    /// The faceplate; `None` when none that is there stays within the block: then the chuck holds it.
    pub plate: Option<Plate>,
    /// The tenon to turn on the block for a chuck of 50 mm jaws instead.
    pub chuck_tenon: Known<Diameter>,
    /// Of that tenon.
    pub chuck_tenon_length: Known<Length>,
    /// Where the last glue joint goes if the part is built in two halves; `None` when nothing asks for it.
    pub last_joint: Option<LastJoint>,
}

/// The face that closes a part built in two halves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LastJoint {
    /// The layer under it.
    pub under: usize,
    /// Its height above the bench.
    pub z: Length,
}

/// A faceplate with its screws.
#[derive(Debug, Clone, Copy)]
pub struct Plate {
    /// Across.
    pub diameter: Known<Diameter>,
    /// Where its screws go through.
    pub thickness: Known<Length>,
    /// Under their heads.
    pub screws: Known<Length>,
    /// Of the screws, in the block.
    pub in_block: Known<Length>,
    /// The longest that stays clear of work and tools.
    pub longest: Known<Length>,
    /// Between their ends and the parting cut.
    pub clearance: Known<Length>,
}

/// How every part is held, the body first.
pub(super) fn mounting(
    recipe: &Recipe,
    vessel: &Vessel,
    ledger: &mut Ledger,
    found: &mut Vec<Finding>,
) -> Vec<PartMount> {
    for said in recipe.fittings.mounts.iter().filter(|said| end_of(vessel, said.part).is_none() && !recipe.is_partial) {
        found.push(mounting_checks::no_part(said));
    }
    let ends = [PartKind::Body, PartKind::Lid].into_iter().filter_map(|part| Some((part, end_of(vessel, part)?)));
    ends.map(|(part, (at, layer))| {
        let said = recipe.fittings.mounts.iter().find(|mount| mount.part == part);
        let mount = Holding { recipe, vessel, ledger }.part(part, at, layer, said);
        if let Some(said) = said {
            mounting_checks::check(recipe, said, &mount, found);
        }
        mount
    })
    .collect()
}

/// The layer that is glued to the block.
fn end_of(vessel: &Vessel, part: PartKind) -> Option<(usize, &BuiltLayer)> {
    let mut of_part = vessel.layers.iter().enumerate().filter(|(_, layer)| layer.part == part);
    match part {
        PartKind::Body => of_part.next(),
        PartKind::Lid => of_part.next_back(),
    }
}

/// The widest face between two layers of a part, of equals the one nearest to its middle; not the one next to
/// where body and lid meet. Only a part that closes in, or is deeper than wide, is better built in halves.
fn last_joint(vessel: &Vessel, part: PartKind) -> Option<LastJoint> {
    let mut layers = vessel.layers.iter().filter(|layer| layer.part == part);
    let (first, last) = (layers.next()?, layers.next_back()?);
    let (bottom, top) = (first.z0.value, last.z1.value);
    let widest = vessel.outside.extremes(bottom, top).greatest.radius;
    let mouth = match part {
        PartKind::Body => vessel.outside.below(top),
        PartKind::Lid => vessel.outside.above(bottom),
    };
    if mouth >= widest * CLOSES_IN && top - bottom <= widest * 2.0 {
        return None;
    }
    let opening = vessel.contacts.iter().position(|contact| contact.is_opening);
    let is_inner = |at: usize| {
        let is_of_part = |at: usize| vessel.layers.get(at).is_some_and(|layer| layer.part == part);
        is_of_part(at) && is_of_part(at + 1) && opening.is_none_or(|opening| at.abs_diff(opening) > 1)
    };
    let off_middle = |z: Length| (z - (bottom + top) / 2.0).abs().mm();
    let faces = vessel.contacts.iter().enumerate().filter(|(at, _)| is_inner(*at));
    // Micrometers tell widths apart; what is alike in them is decided by height.
    let width = |contact: &Contact| (contact.outer_radius.mm() * 1e3).round();
    let (under, contact) = faces
        .max_by(|(_, a), (_, b)| width(a).total_cmp(&width(b)).then(off_middle(b.z).total_cmp(&off_middle(a.z))))?;
    Some(LastJoint { under, z: contact.z })
}

/// A mouth under this share of the widest place hides what is behind it from the tool.
const CLOSES_IN: f64 = 0.95;

struct Holding<'a> {
    recipe: &'a Recipe,
    vessel: &'a Vessel,
    ledger: &'a mut Ledger,
}

impl Holding<'_> {
    fn part(&mut self, part: PartKind, at: usize, layer: &BuiltLayer, said: Option<&Mount>) -> PartMount {
        let outside = &self.vessel.outside;
        let end = match part {
            PartKind::Body => layer.z0,
            PartKind::Lid => layer.z1,
        };
        let foot = self.ledger.work(&FOOT, (end,), |(z,)| {
            Diameter::new(if part == PartKind::Body { outside.above(z) } else { outside.below(z) } * 2.0)
        });
        let block = match said.and_then(|said| said.diameter) {
            Some(given) => given.map(Diameter::new),
            None => self.ledger.work(&mount::BLOCK_DIAMETER, (foot,), |(foot,)| mount::block_diameter(foot)),
        };
        let plate_thick = said
            .and_then(|said| said.plate_thick)
            .unwrap_or(Known::new(PLATE_THICK, Origin::Default(&"a faceplate is about 6 mm thick at its screws")));
        let screws = said.and_then(|said| said.screws).unwrap_or(self.recipe.shop.screws);
        let clearance = Known::new(METAL_CLEARANCE, Origin::Default(&mount::METAL_CLEARANCE_REASON));
        let turned = Known::new(PARTING_CUT, Origin::Default(&"a parting tool takes 3 mm of the block"));
        let in_block = self.ledger.work(&mount::SCREWS_IN_BLOCK, (screws, plate_thick), |(screw, plate)| {
            mount::screws_in_block(screw, plate)
        });
        let given = said.and_then(|said| said.faceplate).map(|plate| plate.map(Diameter::new));
        let plate = given.or_else(|| self.faceplate(block, clearance));
        let thickness = match said.and_then(|said| said.thick) {
            Some(given) => given,
            None if plate.is_none() => Known::new(LEAST_BLOCK, Origin::Default(&mount::LEAST_BLOCK_REASON)),
            None => {
                let takes = (in_block, clearance, turned);
                self.ledger.work(&mount::BLOCK_THICKNESS, takes, |(screws, clearance, turned)| {
                    mount::block_thickness(screws, clearance, turned)
                })
            }
        };
        let plate = plate.map(|diameter| {
            let longest = self.ledger.work(
                &mount::LONGEST_SCREW,
                (plate_thick, thickness, clearance, turned),
                |(plate, block, clearance, turned)| mount::longest_screw(plate, block, clearance, turned),
            );
            let room = (thickness, in_block, turned);
            let room = self.ledger.work(&mount::TOOL_CLEARANCE, room, |(block, screws, turned)| {
                mount::tool_clearance(block, screws, turned)
            });
            Plate { diameter, thickness: plate_thick, screws, in_block, longest, clearance: room }
        });
        PartMount {
            part,
            layer: at,
            foot,
            wood: said.and_then(|said| said.wood),
            block,
            thickness,
            glue_area: self.glue_area(layer, block),
            plate,
            chuck_tenon: self.chuck_tenon(),
            chuck_tenon_length: Known::new(
                mount::CHUCK_TENON_LENGTH,
                Origin::Default(&mount::CHUCK_TENON_LENGTH_REASON),
            ),
            last_joint: last_joint(self.vessel, part),
        }
    }

    fn faceplate(&mut self, block: Known<Diameter>, clearance: Known<Length>) -> Option<Known<Diameter>> {
        let owned: Vec<Diameter> = self.recipe.shop.faceplates.iter().map(|plate| plate.value).collect();
        let fits = mount::faceplate_for(block.value, clearance.value, &owned)?;
        Some(self.ledger.work(&mount::FACEPLATE_FOR, (block, clearance), |_| fits))
    }

    fn glue_area(&mut self, layer: &BuiltLayer, block: Known<Diameter>) -> Known<Area> {
        let face = self.ledger.work(&FACE, (layer.blank_outer_radius,), |(radius,)| Diameter::new(radius * 2.0));
        let hole = match &layer.shape {
            LayerShape::Ring(ring) => ring.hole_radius,
            LayerShape::Disc { .. } => Length::ZERO,
            LayerShape::Slant(_) => layer.blank_inner_radius.value,
        };
        let hollow = self.ledger.work(&HOLLOW, (layer.blank_inner_radius,), |_| Diameter::new(hole * 2.0));
        self.ledger.work(&mount::BLOCK_GLUE_AREA, (block, face, hollow), |(block, face, hollow)| {
            mount::block_glue_area(block, face, hollow)
        })
    }

    fn chuck_tenon(&mut self) -> Known<Diameter> {
        let jaws = |diameter| Known::new(diameter, Origin::Default(&"the usual 50 mm jaws: common practice"));
        let share = Known::new(mount::CHUCK_TENON_SHARE, Origin::Default(&mount::CHUCK_TENON_SHARE_REASON));
        let greatest = self.vessel.max_diameter.map(Diameter::new);
        let inputs = (greatest, share, jaws(JAWS_50.least), jaws(JAWS_50.most));
        self.ledger.work(&mount::CHUCK_TENON, inputs, |(greatest, share, least, most)| {
            mount::chuck_tenon(greatest, share, least, most)
        })
    }
}
