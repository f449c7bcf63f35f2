//! When work is done, what clamps there are, and what is asked of strips and purses.

use super::{only, recipe, resolve, rings, with};
use crate::quantity::Weekday;
use crate::resolve::Subject;
use crate::source::MapWorld;

fn shop(inside: &str) -> crate::resolve::Shop {
    recipe(&with(&format!("shop {{ {inside} }}"), "ring maple thick 3/4")).shop
}

fn only_of_shop(inside: &str) -> String {
    only(&with(&format!("shop {{ {inside} }}"), "ring maple thick 3/4"))
}

#[test]
fn a_shop_says_when_it_works() {
    let said = shop("hours 7.5 .. 24  days-off [sun sat]");
    assert!((said.hours.value.from.minutes() - 450.0).abs() < 1e-9);
    assert!((said.hours.value.to.minutes() - 1440.0).abs() < 1e-9);
    assert_eq!(said.days_off, [Weekday::Saturday, Weekday::Sunday]);
    let usual = shop("");
    assert!((usual.hours.value.from.minutes() - 540.0).abs() < 1e-9 && usual.hours.value.to.minutes() > 1079.9);
    assert_eq!(usual.days_off, []);
    assert!((shop("hours 0 .. 1").hours.value.to.minutes() - 60.0).abs() < 1e-9, "an hour is the least");
}

#[test]
fn hours_and_days_that_cannot_be_are_told_with_their_bounds() {
    let bounds = "is no day of work: it begins at 0 or later, ends at 24 or earlier, and is an hour long at least";
    for hours in ["18 .. 9", "9 .. 25", "9 .. 9.5", "-1 .. 9"] {
        assert_eq!(
            only_of_shop(&format!("hours {hours}")),
            format!("quantity/out-of-range at `{hours}`: `hours {hours}` {bounds}")
        );
    }
    for (inside, wanted) in [
        ("hours 9", "word/wrong-kind at `9`: `hours` wants two hours of the day, such as `9 .. 18`; this is a number"),
        ("hours 9 h .. 18 h", "quantity/wrong-dimension at `9 h`: `hours` wants two hours of the day"),
        ("days-off sun", "word/wrong-kind at `sun`: `days-off` wants days of the week in square brackets"),
        (
            "days-off [sum]",
            "word/unknown at `sum`: `days-off` wants `mon`, `tue`, `wed`, `thu`, `fri`, `sat` or `sun`; this is `sum`",
        ),
        ("days-off [mon tue wed thu fri sat sun]", "quantity/out-of-range at `[mon tue wed thu fri sat sun]`"),
        ("cauls 0", "quantity/out-of-range at `0`: `cauls` wants one or more"),
        ("currency eur", "word/wrong-kind at `eur`: `currency` wants a text in double quotes"),
        ("currency 3", "word/wrong-kind at `3`: `currency` wants a text in double quotes"),
        ("jointing -1", "quantity/out-of-range at `-1`: `jointing` wants zero or more"),
    ] {
        let said = only_of_shop(inside);
        assert!(said.starts_with(wanted), "{inside}: {said}");
    }
}

#[test]
fn clamps_are_bands_and_cauls() {
    let said = shop("cauls 2  jointing 1/8  end-trim 2  short-rip 10\n band-clamp 7 .. 2 count 3\n band-clamp 6 .. 12");
    let bands: Vec<(f64, f64, u32)> = said
        .bands
        .iter()
        .map(|band| (band.from.value.across().mm(), band.to.value.across().mm(), band.count.value.0))
        .collect();
    assert_eq!(bands.len(), 2);
    assert!((bands[0].0 - 50.8).abs() < 1e-9 && (bands[0].1 - 177.8).abs() < 1e-9 && bands[0].2 == 3, "{bands:?}");
    assert_eq!(bands[1].2, 1);
    assert_eq!(said.cauls.map(|cauls| cauls.value.0), Some(2));
    let inches = [said.jointing, said.end_trim, said.short_rip].map(|length| length.value.mm() / 25.4);
    assert!(inches.iter().zip([0.125, 2.0, 10.0]).all(|(is, wanted)| (is - wanted).abs() < 1e-9), "{inches:?}");
    for (inside, wanted) in [
        ("band-clamp 5", "word/wrong-kind at `5`: `band-clamp` wants two lengths"),
        ("band-clamp 5 .. 5", "quantity/out-of-range at `5 .. 5`"),
        ("band-clamp 5 .. 6 count 0", "quantity/out-of-range at `0`: `count` wants one or more"),
        ("band-clamp", "word/missing at `band-clamp`"),
    ] {
        let said = only_of_shop(inside);
        assert!(said.starts_with(wanted), "{inside}: {said}");
    }
}

#[test]
fn a_used_shop_gives_what_the_recipe_does_not_say() {
    let mut world = MapWorld::default();
    let used = "units in\nshop { hours 8 .. 16  days-off [sun]  currency \"$\"  cauls 4  jointing 1/4\n band-clamp 2 .. 7\n \
                for-sale { walnut thick 1 wide 6 long 96 price 9 } }\n";
    world.add("bench.vessel", used);
    let text = with("use \"bench.vessel\"\nshop { hours 10 .. 12  days-off [] }", "ring maple thick 3/4");
    let root = world.add("test.vessel", &text).root("test.vessel").unwrap();
    let resolved = resolve(&world, root);
    assert!(resolved.findings.is_empty(), "{:?}", resolved.findings);
    let shop = resolved.recipe.unwrap().shop;
    assert!((shop.hours.value.from.minutes() - 600.0).abs() < 1e-9, "the recipe's own wins");
    assert_eq!((shop.days_off.len(), shop.currency.as_str()), (0, "$"));
    assert_eq!((shop.cauls.map(|cauls| cauls.value.0), shop.bands.len(), shop.for_sale.len()), (Some(4), 1, 1));
    assert!((shop.jointing.value.mm() - 6.35).abs() < 1e-9);
}

#[test]
fn a_ring_may_ask_for_one_strip() {
    let recipe = recipe(&with(
        "",
        "ring maple thick 1/2 match\n ring maple thick 1/2\n every ring { match }\n ring maple thick 1/2\n wedges maple thick 1/2 match",
    ));
    let matched: Vec<bool> = rings(&recipe).iter().map(|ring| ring.matched.is_some()).collect();
    assert_eq!(matched, [true, false, true, true]);
    let said = only(&with("", "every staves { match }\n ring maple thick 3/4"));
    assert_eq!(said, "word/unknown at `match`: staves have no `match`");
    let said = only(&with("", "staves maple tall 3/4 match"));
    assert_eq!(said, "word/unknown at `match`: `staves` has no `match`");
}

#[test]
fn cost_and_days_can_be_promised_as_bare_numbers() {
    let promise = |text: &str| with("", "ring maple thick 3/4").replace("body {", &format!("{text} body {{"));
    let kept = recipe(&promise("expect cost <= 40.5 expect days < 5"));
    let bounds: Vec<(Subject, f64)> = kept.expects.iter().map(|expect| (expect.subject, expect.bound)).collect();
    assert_eq!(bounds, [(Subject::Cost, 40.5), (Subject::Days, 5.0)]);
    assert_eq!(
        only(&promise("expect days <= 5 d")),
        "quantity/wrong-dimension at `5 d`: `days` wants a bare number; `5 d` is a time"
    );
}
