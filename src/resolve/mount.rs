//! How a part is held on the lathe, as far as the recipe says it.

use crate::vocabulary::{Bound, HeadId, MOUNT};
use crate::workings::{Known, Origin};

use super::fittings::Mount;
use super::scope::Scope;
use super::split::Call;
use super::{Resolver, findings, read};

impl Resolver<'_> {
    pub(super) fn mount(&mut self, scope: &Scope, call: &Call<'_>, mounts: &mut Vec<Mount>) {
        let Some((part, part_span)) = self.part(scope, call) else { return };
        let head = call.head_span.to(part_span);
        if let Some(first) = mounts.iter().find(|mount| mount.part == part) {
            self.say(findings::twice(head, &format!("mount {}", part.word()), first.head));
            return;
        }
        let Some(block) = call.block else { return };
        let said = self.said(scope, (block, call.span), &MOUNT);
        let waste = said.of(HeadId::Block);
        let wood = waste.and_then(|call| call.argument(0)).and_then(<[_]>::first);
        let first_length = |resolver: &mut Self, id| {
            let call = said.of(id)?;
            let item = call.argument(0)?.first()?;
            let length = resolver.told(read::length(scope, item, call.head.word, Bound::Positive))?;
            Some(Known::new(length, Origin::Written(item.span)))
        };
        let faceplate = first_length(self, HeadId::Faceplate);
        let screws = first_length(self, HeadId::Screws);
        mounts.push(Mount {
            part,
            wood: wood.map(|item| self.plain_wood(&scope.tree, item, &scope.woods, "block")),
            thick: waste.and_then(|call| self.maybe_length(scope, call, "thick")),
            diameter: waste.and_then(|call| self.maybe_length(scope, call, "diameter")),
            faceplate,
            plate_thick: said.of(HeadId::Faceplate).and_then(|call| self.maybe_length(scope, call, "thick")),
            screws,
            span: call.span,
            head,
        });
    }
}
