//! A ring of a cone: what the shape asks of it.

use crate::quantity::{Angle, Area, Volume};
use crate::resolve::SlantRing;
use crate::workings::{Known, Origin};

use super::layers::{Build, Place};
use super::ring;
use super::vessel::{LayerShape, SlantShape};

impl Build<'_> {
    /// The ring, with its rotation, the wood of its blank and its glued joints.
    pub(super) fn slant(
        &mut self,
        slant: &SlantRing,
        place: &Place,
    ) -> (LayerShape, Angle, Known<Volume>, Known<Area>) {
        let shape = SlantShape {
            wood: slant.wood,
            cone: slant.cone,
            outer_at_z0: place.blank_outer,
            outer_at_z1: place.blank_outer,
            width: place.blank_outer,
        };
        let blank = (place.blank_outer, place.rough);
        let volume = self.ledger.work(&ring::DISC_BLANK_VOLUME, blank, |(r, t)| ring::disc_volume(r, t));
        let joints = Known::new(Area::default(), Origin::Default(&"a sawn ring has no joints"));
        (LayerShape::Slant(shape), Angle::ZERO, volume, joints)
    }
}
