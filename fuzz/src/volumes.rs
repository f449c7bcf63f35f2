//! Wood does not come from nowhere: the sums of a design, and its model against its closed forms.

use serde_json::Value;

/// What sums of floats differ by.
const HAIR: f64 = 1e-9;

/// As a share: the corners of an STL have seven digits.
const DIGITS: f64 = 1e-4;

/// Holds the sums.
pub fn check(design: &Value, stl: &[u8]) {
    let totals = &design["totals"];
    let layers: Vec<&Value> = list(design, "parts").iter().flat_map(|part| list(part, "layers")).collect();
    let woods = list(design, "woods");
    for key in ["finished_cm3", "blank_cm3"] {
        let of_layers: f64 = layers.iter().map(|layer| number(layer, key)).sum();
        let of_woods: f64 = woods.iter().map(|wood| number(wood, key)).sum();
        alike(of_layers, number(totals, key), HAIR, &format!("{key} of the layers and of all"));
        alike(of_woods, number(totals, key), HAIR, &format!("{key} of the woods and of all"));
    }
    let mass = woods.iter().map(|wood| number(wood, "mass_g")).sum();
    alike(mass, number(totals, "mass_g"), HAIR, "mass of the woods and of all");
    for (of, what) in layers.iter().map(|layer| (*layer, "id")).chain(woods.iter().map(|wood| (wood, "wood"))) {
        let (finished, blank) = (number(of, "finished_cm3"), number(of, "blank_cm3"));
        assert!(finished <= blank * (1.0 + HAIR), "{}: {finished} cm³ are turned out of {blank}", of[what]);
    }
    for wood in woods {
        let (blank, lumber) = (number(wood, "blank_cm3"), number(wood, "lumber_cm3"));
        assert!(blank <= lumber * (1.0 + HAIR), "{}: {blank} cm³ are glued up of {lumber}", wood["wood"]);
    }
    bought(design);

    let held = volume(stl) / 1000.0;
    let told = number(totals, "finished_cm3");
    if list(design, "inserts").is_empty() {
        alike(held, told, DIGITS, "the model and the closed form");
    }
}

/// What is glued comes out of boards; thin stock and veneer are not planned, and a plan may say what it lacks.
fn bought(design: &Value) {
    let is_planned = |row: &Value| !matches!(row["kind"].as_str(), Some("spacers" | "sheet"));
    let piles = list(&design["cutting_plan"], "piles");
    if list(design, "cut_list").iter().all(is_planned) && piles.iter().all(|pile| list(pile, "lacks").is_empty()) {
        let wood: f64 = piles.iter().map(|pile| number(pile, "wood_cm3")).sum();
        let blank = number(&design["totals"], "blank_cm3");
        assert!(blank <= wood, "{blank} cm³ are glued up of boards of {wood}");
    }
}

/// By the theorem of Gauss, piece after piece: each is closed.
fn volume(stl: &[u8]) -> f64 {
    let triangles = stl.get(84..).unwrap_or(&[]).as_chunks::<50>().0;
    let six: f64 = triangles
        .iter()
        .map(|triangle| {
            let mut numbers =
                triangle[12..48].as_chunks::<4>().0.iter().map(|bytes| f64::from(f32::from_le_bytes(*bytes)));
            let [ax, ay, az, bx, by, bz, cx, cy, cz] = std::array::from_fn(|_| numbers.next().unwrap_or_default());
            ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
        })
        .sum();
    six / 6.0
}

fn alike(one: f64, other: f64, within: f64, what: &str) {
    assert!((one - other).abs() <= within * other.abs().max(1.0), "{what}: {one} and {other}");
}

fn number(of: &Value, key: &str) -> f64 {
    of[key].as_f64().unwrap_or_else(|| panic!("{key} in {of}"))
}

fn list<'a>(of: &'a Value, key: &str) -> &'a [Value] {
    of[key].as_array().unwrap_or_else(|| panic!("{key} in {of}"))
}
