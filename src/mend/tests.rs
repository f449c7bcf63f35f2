use std::collections::BTreeMap;

use super::{FileKey, Mended, Recipe, Wanted, mend};
use crate::source::{FileId, MapWorld, World};

/// The texts of a project once it is mended, the first file being the recipe.
fn mended(files: &[(&str, &str)], roots: usize, wanted: Wanted) -> (Vec<String>, Vec<String>) {
    let mut world = MapWorld::default();
    for (name, text) in files {
        world.add(name, text);
    }
    let roots: Vec<FileId> = files.iter().take(roots).map(|(name, _)| world.root(name).unwrap()).collect();
    let key = |id: FileId| {
        let name = world.file(id).name.clone();
        files.iter().position(|(known, _)| *known == name).map(FileKey)
    };
    let levels = crate::finding::policy::Levels::default();
    let recipes: Vec<Recipe<'_>> =
        roots.iter().map(|root| Recipe { world: &world, root: *root, levels: &levels, key: &key }).collect();
    let Mended { files: changed, done, .. } = mend(&recipes, wanted);
    let now: BTreeMap<FileKey, String> =
        changed.iter().map(|(file, mended)| (*file, mended.after.to_string())).collect();
    let texts = files.iter().enumerate();
    let texts = texts.map(|(at, (_, text))| now.get(&FileKey(at)).cloned().unwrap_or((*text).to_owned())).collect();
    (texts, done.into_iter().map(|done| done.title).collect())
}

fn alone(text: &str) -> (String, Vec<String>) {
    let (texts, done) = mended(&[("a.vessel", text)], 1, Wanted::All);
    (texts[0].clone(), done)
}

const CUP: &str = "units mm\nvessel \"Cup\" {\n  outside { at 0 diameter 90   at 60 diameter 90 }\n  wall 9\n  floor 10\n  \
    body {\n    disc walnut thick 10\n    repeat 5 { ring maple thick 10 }\n  }\n}\n";

#[test]
fn a_good_text_stays_as_it_is() {
    assert_eq!(alone(CUP), (CUP.to_owned(), vec![]));
}

#[test]
fn several_slips_are_mended_at_once_and_one_behind_the_other() {
    let slips = CUP.replace("disc walnut", "disc wallnut").replace("ring maple thick 10", "ring mapel, thick: 10;");
    let (text, done) = alone(&slips);
    assert_eq!(text, CUP);
    assert_eq!(done.len(), 5, "{done:?}");
}

#[test]
fn safe_fixes_alone_leave_the_design() {
    let slips = CUP.replace("disc walnut", "disc wallnut").replace("floor 10", "floor: 10");
    let (texts, done) = mended(&[("a.vessel", &slips)], 1, Wanted::Safe);
    assert_eq!(texts[0], CUP.replace("disc walnut", "disc wallnut"));
    assert_eq!(done, ["remove the `:`"]);
}

#[test]
fn line_ends_and_the_mark_at_the_start_stay() {
    let bare = CUP.replace("units mm\n", "").replace("floor 10", "floor 10 mm").replace('\n', "\r\n");
    let (text, _) = alone(&format!("\u{FEFF}{bare}"));
    let wanted = CUP.replace("floor 10", "floor 10 mm").replace('\n', "\r\n");
    assert_eq!(text, format!("\u{FEFF}{wanted}"));
}

#[test]
fn comments_are_never_touched() {
    let commented = CUP.replace("disc walnut thick 10", "disc wallnut thick 10 # wallnut; from the old bench");
    let (text, _) = alone(&commented);
    assert_eq!(text, commented.replacen("wallnut", "walnut", 1));
}

#[test]
fn a_shared_file_is_mended_only_when_every_recipe_agrees() {
    let shared = "units mm\nlet rim = 90;\n";
    let of = |text: &str| text.replacen("units mm\n", "units mm\nuse \"shared.vessel\"\n", 1);
    let (a, b) = (of(CUP).replace("60 diameter 90", "60 diameter rim"), of(CUP));
    let (texts, done) = mended(&[("a.vessel", &a), ("b.vessel", &b), ("shared.vessel", shared)], 2, Wanted::All);
    assert_eq!(texts[2], "units mm\nlet rim = 90\n");
    assert_eq!((texts[0].as_str(), texts[1].as_str()), (a.as_str(), b.as_str()));
    assert_eq!(done.len(), 1);
}
