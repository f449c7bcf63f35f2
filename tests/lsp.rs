//! The language server, asked through its own pipes.

#![allow(clippy::unwrap_used, reason = "a test may stop where it stands")]
#![allow(clippy::disallowed_methods, reason = "what a test reads and writes is its own")]
#![allow(clippy::cast_possible_truncation, reason = "the texts of tests are short")]

use std::time::Duration;

use crate::lsp_support::{Editor, applied, marked, offset, position};
use serde_json::{Value, json};

const BOWL: &str = "\
# A bowl.
units mm
let rim = 120
let base = rim - 40
wood pale { like hard-maple }
vessel \"Bowl ½\" {
  outside {
    at 0  diameter base
    at 60 diameter rim
  }
  wall 8
  floor 12
  every ring { segments 12  thick 16  stagger half }
  body {
    disc walnut thick 12
    ring pale
    ring [pale*2 walnut] name band
    ring pale
  }
}
";

fn with_bowl() -> Editor {
    let mut editor = Editor::new(&[("bowl.vessel", BOWL)]);
    editor.open("bowl.vessel", BOWL);
    editor
}

/// An editor with one text that is open, and the place in it that `$0` marks.
fn open_at(text: &str) -> (Editor, Value) {
    let (plain, place) = marked(text);
    let mut editor = Editor::new(&[]);
    editor.open("a.vessel", &plain);
    (editor, place)
}

/// The bowl with one piece of it replaced; `$0` in the new piece marks a place.
fn bowl_with(old: &str, new: &str) -> String {
    assert_eq!(BOWL.matches(old).count(), 1, "{old}");
    BOWL.replace(old, new)
}

fn words(answer: &Value) -> Vec<&str> {
    answer.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect()
}

fn hover(text: &str) -> String {
    let (mut editor, place) = open_at(text);
    let answer = editor.at("textDocument/hover", "a.vessel", &place);
    answer["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

fn completed(text: &str) -> Value {
    let (mut editor, place) = open_at(text);
    editor.at("textDocument/completion", "a.vessel", &place)
}

// ── The protocol ────────────────────────────────────────────────────────────────────────────────────────

#[test]
fn it_introduces_itself_and_takes_its_leave() {
    let editor = with_bowl();
    assert_eq!(editor.leave(), Some(0));
    assert_eq!(Editor::started(&[]).vanish(), Some(1));
}

#[test]
fn nothing_comes_before_initialize_and_nothing_after_shutdown() {
    let mut editor = Editor::started(&[]);
    assert_eq!(editor.try_ask("textDocument/hover", json!({}))["error"]["code"], -32002);
    editor.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
    editor.ask("shutdown", Value::Null);
    assert_eq!(editor.try_ask("textDocument/hover", json!({}))["error"]["code"], -32600);
}

#[test]
fn strange_messages_are_answered_and_change_nothing() {
    let mut editor = with_bowl();
    assert_eq!(editor.try_ask("recipe/turnItself", json!({}))["error"]["code"], -32601);
    for params in [json!(null), json!({}), json!([1, 2]), json!({ "textDocument": 3, "position": "x" })] {
        for method in ["hover", "completion", "rename", "codeAction", "semanticTokens/full", "inlayHint"] {
            let answer = editor.try_ask(&format!("textDocument/{method}"), params.clone());
            assert_eq!(answer["error"]["code"], -32602, "{method}: {answer}");
        }
        for method in ["textDocument/didOpen", "textDocument/didChange", "$/strange", "workspace/didChangeWatchedFiles"]
        {
            editor.notify(method, params.clone());
        }
    }
    editor.send_raw(b"Content-Length: 5\r\n\r\n{\"a\":");
    assert_eq!(editor.answer(&Value::Null)["error"]["code"], -32700);
    editor.send_raw(b"Content-Length: 9\r\n\r\n{\"id\":77}");
    assert_eq!(editor.answer(&json!(77))["error"]["code"], -32600);
    editor.send(&json!({ "jsonrpc": "2.0", "id": 9, "result": null }));
    // Places outside of the text, and ranges that run backward.
    let far = json!({ "line": 4_000_000_000_u32, "character": 4_000_000_000_u32 });
    for method in ["hover", "completion", "definition", "signatureHelp", "documentHighlight"] {
        editor.at(&format!("textDocument/{method}"), "bowl.vessel", &far);
    }
    let start = json!({ "line": 0, "character": 0 });
    let uri = editor.uri("bowl.vessel");
    editor.ask(
        "textDocument/inlayHint",
        json!({ "textDocument": { "uri": uri }, "range": { "start": far, "end": start } }),
    );
    editor.edit("bowl.vessel", 2, json!([{ "range": { "start": far, "end": start }, "text": "x" }]));
    assert!(editor.of("textDocument/documentSymbol", "bowl.vessel").is_array());
    assert_eq!(editor.leave(), Some(0));
}

#[test]
fn a_request_is_canceled_while_it_waits() {
    let mut editor = with_bowl();
    let uri = editor.uri("bowl.vessel");
    let params = json!({ "textDocument": { "uri": uri } });
    // All in one piece, so that the last one waits while the first ones are answered.
    let mut bytes = Vec::new();
    let mut put = |message: Value| {
        let body = message.to_string();
        bytes.extend_from_slice(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    };
    for id in 100..400 {
        put(json!({ "jsonrpc": "2.0", "id": id, "method": "textDocument/semanticTokens/full", "params": params }));
    }
    put(json!({ "jsonrpc": "2.0", "method": "$/cancelRequest", "params": { "id": 399 } }));
    editor.send_raw(&bytes);
    let answer = editor.answer(&json!(399));
    assert_eq!(answer["error"]["code"], -32800, "{answer}");
}

#[test]
fn columns_are_counted_as_agreed() {
    for (offered, agreed, character) in [(json!(["utf-16"]), "utf-16", 15), (json!(["utf-8", "utf-16"]), "utf-8", 18)] {
        let capabilities = json!({ "general": { "positionEncodings": offered } });
        let mut editor = Editor::started(&[]);
        let params = json!({ "processId": null, "rootUri": null, "capabilities": capabilities });
        let answer = editor.ask("initialize", params);
        assert_eq!(answer["capabilities"]["positionEncoding"], agreed);
        editor.notify("initialized", json!({}));
        // A sign of two units and four bytes before the word.
        let text = "vessel \"𝄞½\" { wal 3 }\n";
        editor.open("a.vessel", text);
        editor.wait("a finding of the word", |editor| editor.codes("a.vessel").contains(&"word/unknown".to_owned()));
        let at = editor.findings("a.vessel").into_iter().find(|(code, ..)| code == "word/unknown").unwrap();
        assert_eq!(at.1, json!({ "line": 0, "character": character }), "{agreed}");
        // And back: an edit at just that place.
        let end = json!({ "line": 0, "character": character + 3 });
        editor.edit("a.vessel", 2, json!([{ "range": { "start": at.1, "end": end }, "text": "wall" }]));
        editor.wait("the word is right", |editor| !editor.codes("a.vessel").contains(&"word/unknown".to_owned()));
    }
}

// ── Findings ────────────────────────────────────────────────────────────────────────────────────────────

#[test]
fn findings_come_and_go_with_the_text() {
    let mut editor = with_bowl();
    let broken = bowl_with("ring [pale*2 walnut]", "ring [pale*2 wallnut]");
    editor.write("bowl.vessel", 2, &broken);
    editor.wait("a wood is unknown", |editor| editor.codes("bowl.vessel").contains(&"wood/unknown".to_owned()));
    let told = editor.published[&editor.uri("bowl.vessel")][0].clone();
    assert_eq!(told["source"], "ringwright");
    assert_eq!(told["severity"], 1);
    assert!(told["message"].as_str().unwrap().contains("help: "), "{told}");
    editor.write("bowl.vessel", 3, BOWL);
    editor.wait("all is well", |editor| editor.codes("bowl.vessel").is_empty());
}

#[test]
fn an_open_text_wins_over_the_disk_and_findings_lie_where_they_belong() {
    let shop = "units mm\nwood pale { like hard-maple }\n";
    let recipe = bowl_with("wood pale { like hard-maple }", "use \"shop.vessel\"");
    let capabilities = json!({ "textDocument": { "publishDiagnostics": { "relatedInformation": true } } });
    let mut editor = Editor::with(&[("shop.vessel", shop), ("bowl.vessel", &recipe)], capabilities, false);
    editor.open("bowl.vessel", &recipe);
    editor.wait("all is well", |editor| editor.published.contains_key(&editor.uri("bowl.vessel")));
    assert_eq!(editor.codes("bowl.vessel"), [""; 0]);
    // The name is lost in the editor alone, though not on the disk.
    editor.open("shop.vessel", "units mm\nwood other { like hard-maple }\n");
    editor.wait("the recipe misses its wood", |editor| !editor.codes("bowl.vessel").is_empty());
    editor.write("shop.vessel", 2, shop);
    editor.wait("it is back", |editor| editor.codes("bowl.vessel").is_empty());
    // A name that is given twice: one place here, the other one there.
    let twice = bowl_with("wood pale { like hard-maple }", "use \"shop.vessel\"\nwood pale { like cherry }");
    editor.write("bowl.vessel", 2, &twice);
    editor.wait("a name twice", |editor| {
        let of = |name: &str| editor.published.get(&editor.uri(name)).cloned().unwrap_or_default();
        let all = [of("bowl.vessel"), of("shop.vessel")];
        all.iter().flat_map(|it| it.as_array().cloned().unwrap_or_default()).any(|it| {
            let related = it["relatedInformation"].as_array().cloned().unwrap_or_default();
            related.iter().any(|place| place["location"]["uri"] == editor.uri("shop.vessel"))
                || it["code"].as_str().is_some_and(|code| code.starts_with("name/"))
        })
    });
    // On the disk it is as it was when the editor lets go of it.
    let uri = editor.uri("shop.vessel");
    editor.write("shop.vessel", 3, "units mm\n");
    editor.write("bowl.vessel", 3, &recipe);
    editor.wait("it is lost once more", |editor| !editor.codes("bowl.vessel").is_empty());
    editor.notify("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
    editor.wait("the disk's text counts", |editor| editor.codes("bowl.vessel").is_empty());
}

#[test]
fn recipes_of_the_workspace_have_findings_though_nobody_opened_them() {
    let mut editor =
        Editor::new(&[("a.vessel", "units mm\nvessel \"A\" { wal 3 }\n"), ("b.txt", "wal"), ("bowl.vessel", BOWL)]);
    editor.wait("findings of what is not open", |editor| editor.codes("a.vessel").contains(&"word/unknown".to_owned()));
    assert!(!editor.published.contains_key(&editor.uri("b.txt")));
    assert_eq!(editor.codes("bowl.vessel"), [""; 0]);
    // It is mended on the disk, and the editor tells of it.
    std::fs::write(editor.path("a.vessel"), BOWL).unwrap();
    let uri = editor.uri("a.vessel");
    editor.notify("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri, "type": 2 }] }));
    editor.wait("it is mended", |editor| editor.codes("a.vessel").is_empty());
    std::fs::write(editor.path("a.vessel"), "x").unwrap();
    editor.notify("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri, "type": 2 }] }));
    editor.wait("it is broken", |editor| !editor.codes("a.vessel").is_empty());
    std::fs::remove_file(editor.path("a.vessel")).unwrap();
    editor.notify("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri, "type": 3 }] }));
    editor.wait("it is gone", |editor| editor.codes("a.vessel").is_empty());
}

#[test]
fn it_asks_to_be_told_of_changed_files() {
    let capabilities = json!({ "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } } });
    let mut editor = Editor::with(&[], capabilities, true);
    editor.wait("it asks", |editor| !editor.asked.is_empty());
    assert_eq!(editor.asked[0]["method"], "client/registerCapability");
    assert_eq!(
        editor.asked[0]["params"]["registrations"][0]["registerOptions"]["watchers"][0]["globPattern"],
        "**/*.vessel"
    );
}

/// A generator that needs no crate and gives the same edits each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

#[test]
fn after_random_edits_the_findings_are_those_of_check() {
    const PIECES: [&str; 14] =
        ["", "ring ", "maple", "\n", " { ", "}", "½", "thick 3", "[", "]", "# no\n", "segments 7 ", "\"", "  "];
    let mut editor = Editor::with(&[("bowl.vessel", BOWL)], json!({}), false);
    editor.open("bowl.vessel", BOWL);
    let (mut text, mut dice, mut version) = (BOWL.to_owned(), Dice(0x9E37_79B9_7F4A_7C15), 1);
    for batch in 0..24 {
        if batch % 6 == 5 {
            text = BOWL.to_owned();
            version += 1;
            editor.write("bowl.vessel", version, &text);
        }
        for _ in 0..=dice.below(4) {
            let mut start = dice.below(text.len());
            let mut end = (start + dice.below(6)).min(text.len());
            while !text.is_char_boundary(start) {
                start -= 1;
            }
            while !text.is_char_boundary(end) {
                end += 1;
            }
            let piece = PIECES[dice.below(PIECES.len())];
            let range = json!({ "start": position(&text, start), "end": position(&text, end) });
            text.replace_range(start..end, piece);
            version += 1;
            editor.edit("bowl.vessel", version, json!([{ "range": range, "text": piece }]));
        }
        let wanted = editor.checked("bowl.vessel", &text);
        editor
            .wait(&format!("batch {batch}: {wanted:?} of\n{text}"), |editor| editor.findings("bowl.vessel") == wanted);
        // And so it stays.
        while editor.next_within(Duration::from_millis(400)).is_some() {}
        assert_eq!(editor.findings("bowl.vessel"), wanted, "batch {batch}");
    }
}

// ── What is told ────────────────────────────────────────────────────────────────────────────────────────

#[test]
fn hover_tells_what_words_mean() {
    let clause = hover(&bowl_with("stagger half", "stag$0ger half"));
    assert!(
        clause.contains("how the ring is turned against the ring below") || clause.contains("How the ring"),
        "{clause}"
    );
    let wood = hover(&bowl_with("disc walnut", "disc wal$0nut"));
    assert!(wood.contains("Juglans nigra") && wood.contains("black-walnut"), "{wood}");
    let own = hover(&bowl_with("    ring [pale*2", "    ring [pa$0le*2"));
    assert!(own.contains("wood pale { like hard-maple }"), "{own}");
    let value = hover(&bowl_with("diameter rim", "diameter ri$0m"));
    assert!(value.contains("let rim = 120"), "{value}");
    let code = hover(&bowl_with("name band", "name band accept ring/joints-li$0ne-up because \"so\""));
    assert!(code.contains("ring/joints-line-up"), "{code}");
    assert_eq!(hover(&bowl_with("# A bowl.", "# A bo$0wl.")), "");
}

#[test]
fn hover_on_a_layer_tells_its_numbers() {
    let ring = hover(&bowl_with("    ring [pale*2", "    ri$0ng [pale*2"));
    for words in ["body.band", "miter 15°", "12 segments", "strip ", "long edge ", "finished radius "] {
        assert!(ring.contains(words), "{words}: {ring}");
    }
}

/// The trees of `why`, of what the statement under the pointer makes or promises.
#[test]
fn hover_tells_where_figures_come_from() {
    let tree_of = |text: &str, first: &str| {
        let (mut editor, place) = open_at(text);
        // Until the worker has made the plan, there is no design to ask.
        let told = (0..400).any(|_| {
            let answer = editor.at("textDocument/hover", "a.vessel", &place);
            std::thread::sleep(std::time::Duration::from_millis(25));
            answer["contents"]["value"].as_str().is_some_and(|told| told.contains(first))
        });
        assert!(told, "{first}");
    };
    tree_of(&bowl_with("    ring [pale*2", "    ri$0ng [pale*2"), "\nstrip width needed = ");
    tree_of(&bowl_with("    disc walnut", "    di$0sc walnut"), "\ndiameter of the round to saw = ");
    tree_of(&bowl_with("vessel \"", "ves$0sel \""), "```text\nvessel.capacity\n");
    tree_of(&bowl_with("  floor 12", "  exp$0ect mass <= 9 kg\n  floor 12"), "```text\nvessel.mass\n");
}

#[test]
fn hover_on_a_finding_explains_its_code() {
    let text = bowl_with("ring [pale*2 walnut] name band", "ring pale stagger no$0ne");
    let (mut editor, place) = open_at(&text);
    editor.wait("the joints line up", |editor| editor.codes("a.vessel").contains(&"ring/joints-line-up".to_owned()));
    let answer = editor.at("textDocument/hover", "a.vessel", &place);
    assert!(answer["contents"]["value"].as_str().unwrap().contains("ring/joints-line-up"), "{answer}");
}

#[test]
fn completion_knows_the_place() {
    let heads = completed(&bowl_with("    ring [pale*2", "    ri$0\n    ring [pale*2"));
    assert!(words(&heads).contains(&"ring") && words(&heads).contains(&"staves"), "{heads}");
    assert!(!words(&heads).contains(&"wall"), "not among layers");
    let heads = completed(&bowl_with("  floor 12", "  $0"));
    assert!(words(&heads).contains(&"floor") && words(&heads).contains(&"joint"), "{heads}");
    let file = completed("un$0");
    assert!(words(&file).contains(&"units"));
    let units = completed("units $0");
    assert_eq!(words(&units), ["in", "mm"]);
}

#[test]
fn completion_leaves_out_clauses_that_are_given() {
    let clauses = completed(&bowl_with("name band", "name band $0"));
    let clauses = words(&clauses);
    assert!(clauses.contains(&"thick") && clauses.contains(&"stagger") && !clauses.contains(&"name"), "{clauses:?}");
    let within = completed(&bowl_with("every ring { segments 12  thick 16", "every ring { $0 segments 12  thick 16"));
    let within = words(&within);
    assert!(within.contains(&"gap") && !within.contains(&"segments") && !within.contains(&"thick"), "{within:?}");
}

#[test]
fn completion_offers_values() {
    let woods = completed(&bowl_with("disc walnut", "disc $0"));
    assert!(words(&woods).contains(&"pale") && words(&woods).contains(&"hard-maple"), "{woods}");
    let maple = woods.as_array().unwrap().iter().find(|item| item["label"] == "hard-maple").unwrap();
    assert!(maple["detail"].as_str().unwrap().starts_with('#'), "{maple}");
    assert!(maple["documentation"]["value"].as_str().unwrap().contains("Acer saccharum"), "{maple}");
    let list = completed(&bowl_with("ring [pale*2 walnut]", "ring [pale*2 $0"));
    assert!(words(&list).contains(&"walnut"), "{list}");
    let glues = completed(&bowl_with("name band", "glue $0"));
    assert!(words(&glues).contains(&"pva-d2") && !words(&glues).contains(&"thick"), "{glues}");
    let finishes = completed(&bowl_with("  floor 12", "  floor 12\n  finish $0"));
    assert!(words(&finishes).contains(&"walnut-oil"), "{finishes}");
    let codes = completed(&bowl_with("name band", "accept $0"));
    assert!(words(&codes).contains(&"ring/joints-line-up") && words(&codes).contains(&"ring"), "{codes}");
    let half = completed(&bowl_with("name band", "accept ring/jo$0"));
    let item = half.as_array().unwrap().iter().find(|item| item["label"] == "ring/joints-line-up").unwrap();
    assert_eq!(item["textEdit"]["newText"], "ring/joints-line-up");
    let names = completed(&bowl_with("diameter rim", "diameter $0"));
    assert!(words(&names).contains(&"rim") && words(&names).contains(&"base"), "{names}");
    let staggers = completed(&bowl_with("stagger half", "stagger $0"));
    assert!(words(&staggers).starts_with(&["half", "none"]), "{staggers}");
    let bits = completed("units in\nshop { bits [$0] }\n");
    assert!(words(&bits).contains(&"3/8 in"), "{bits}");
    let layers = completed(&bowl_with("  floor 12", "  floor 12\n  made { ring $0 }"));
    assert!(words(&layers).contains(&"band"), "{layers}");
    assert_eq!(words(&completed("# u$0")), [""; 0]);
    assert_eq!(words(&completed("vessel \"un$0\" {}")), [""; 0]);
}

#[test]
fn signature_help_follows_the_arguments() {
    let at = |text: &str| {
        let (mut editor, place) = open_at(text);
        editor.at("textDocument/signatureHelp", "a.vessel", &place)
    };
    let first = at(&bowl_with("name band", "spacer $0"));
    assert_eq!(first["signatures"][0]["label"], "spacer WOOD LENGTH");
    assert_eq!(first["activeParameter"], 0);
    let second = at(&bowl_with("name band", "spacer walnut $0"));
    assert_eq!(second["activeParameter"], 1);
    let span = &second["signatures"][0]["parameters"][1]["label"];
    assert_eq!(*span, json!([12, 18]));
    let head = at(&bowl_with("  floor 12", "  expect $0"));
    assert!(head["signatures"][0]["label"].as_str().unwrap().starts_with("expect capacity|mass"), "{head}");
}

// ── Names ───────────────────────────────────────────────────────────────────────────────────────────────

const SHOP: &str = "units mm\nwood pale { like hard-maple }\nlet thin = 12\n";

fn with_shop() -> (Editor, String) {
    let recipe = bowl_with("wood pale { like hard-maple }", "use \"shop.vessel\"").replace("floor 12", "floor thin");
    let other = "units mm\nuse \"shop.vessel\"\nboard striped { pale 4  walnut 4 }\n";
    let mut editor = Editor::new(&[("shop.vessel", SHOP), ("bowl.vessel", &recipe), ("other.vessel", other)]);
    editor.open("bowl.vessel", &recipe);
    (editor, recipe)
}

#[test]
fn definitions_are_found_across_files() {
    let (mut editor, recipe) = with_shop();
    let place = position(&recipe, recipe.find("[pale").unwrap() + 2);
    let answer = editor.at("textDocument/definition", "bowl.vessel", &place);
    assert_eq!(answer["uri"], editor.uri("shop.vessel"));
    assert_eq!(answer["range"]["start"], json!({ "line": 1, "character": 5 }));
    let place = position(&recipe, recipe.find("diameter rim").unwrap() + 10);
    let answer = editor.at("textDocument/definition", "bowl.vessel", &place);
    assert_eq!(offset(&recipe, &answer["range"]["start"]), recipe.find("rim =").unwrap());
    let place = position(&recipe, recipe.find("shop.vessel").unwrap());
    let answer = editor.at("textDocument/definition", "bowl.vessel", &place);
    assert_eq!(answer["uri"], editor.uri("shop.vessel"));
    let place = position(&recipe, recipe.find("walnut").unwrap());
    assert_eq!(editor.at("textDocument/definition", "bowl.vessel", &place), Value::Null, "of the table");
}

#[test]
fn references_are_found_in_all_recipes() {
    let (mut editor, recipe) = with_shop();
    let uri = editor.uri("bowl.vessel");
    let place = position(&recipe, recipe.find("[pale").unwrap() + 1);
    let answer = editor.ask(
        "textDocument/references",
        json!({ "textDocument": { "uri": uri }, "position": place, "context": { "includeDeclaration": true } }),
    );
    let mut files: Vec<&str> =
        answer.as_array().unwrap().iter().map(|it| it["uri"].as_str().unwrap().rsplit('/').next().unwrap()).collect();
    files.sort_unstable();
    assert_eq!(files, ["bowl.vessel", "bowl.vessel", "bowl.vessel", "other.vessel", "shop.vessel"]);
    let marks = editor.at("textDocument/documentHighlight", "bowl.vessel", &place);
    assert_eq!(marks.as_array().unwrap().len(), 3);
}

#[test]
fn a_name_is_changed_wherever_it_stands() {
    let (mut editor, recipe) = with_shop();
    let uri = editor.uri("bowl.vessel");
    let place = position(&recipe, recipe.find("[pale").unwrap() + 1);
    let ready = editor.at("textDocument/prepareRename", "bowl.vessel", &place);
    assert_eq!(ready["placeholder"], "pale");
    let rename = |editor: &mut Editor, place: &Value, new: &str| {
        editor.try_ask(
            "textDocument/rename",
            json!({ "textDocument": { "uri": uri }, "position": place, "newName": new }),
        )
    };
    let answer = rename(&mut editor, &place, "light");
    let changes = &answer["result"]["changes"];
    assert_eq!(changes[editor.uri("shop.vessel")].as_array().unwrap().len(), 1, "{answer}");
    assert_eq!(changes[editor.uri("other.vessel")].as_array().unwrap().len(), 1, "{answer}");
    let renamed = applied(&recipe, &changes[&uri]);
    assert_eq!(renamed, recipe.replace("pale", "light"));
    // Of a layer, within its recipe.
    let place = position(&recipe, recipe.find("name band").unwrap() + 6);
    let answer = rename(&mut editor, &place, "belt");
    assert_eq!(applied(&recipe, &answer["result"]["changes"][&uri]), recipe.replace("band", "belt"));
    // A let, but not what merely looks like it.
    let place = position(&recipe, recipe.find("rim - 40").unwrap());
    let answer = rename(&mut editor, &place, "edge");
    assert_eq!(applied(&recipe, &answer["result"]["changes"][&uri]), recipe.replace("rim", "edge"));
}

#[test]
fn what_is_not_the_writers_name_is_not_changed() {
    let (mut editor, recipe) = with_shop();
    let uri = editor.uri("bowl.vessel");
    let mut refuse = |at: &str, new: &str, why: &str| {
        let place = position(&recipe, recipe.find(at).unwrap());
        let answer = editor.try_ask(
            "textDocument/rename",
            json!({ "textDocument": { "uri": uri }, "position": place, "newName": new }),
        );
        let message = answer["error"]["message"].as_str().unwrap_or_default().to_owned();
        assert!(message.contains(why), "{at} to {new}: {answer}");
    };
    refuse("walnut", "nut", "no name that this recipe gives");
    refuse("wall", "side", "word of the language");
    refuse("rim - 40", "Rim", "is no name");
    refuse("rim - 40", "two words", "is no name");
    refuse("rim - 40", "ring", "cannot be the name");
    refuse("rim - 40", "base", "cannot be the name");
    refuse("rim - 40", "thin", "`thin`");
}

// ── The whole text ──────────────────────────────────────────────────────────────────────────────────────

#[test]
fn the_outline_goes_from_the_vessel_to_its_layers() {
    let mut editor = with_bowl();
    let symbols = editor.of("textDocument/documentSymbol", "bowl.vessel");
    let top: Vec<&str> = symbols.as_array().unwrap().iter().map(|it| it["name"].as_str().unwrap()).collect();
    assert_eq!(top[top.len() - 1], "vessel \"Bowl ½\"");
    let vessel = &symbols[top.len() - 1];
    let body = vessel["children"].as_array().unwrap().iter().find(|it| it["name"] == "body").unwrap();
    let layers: Vec<&str> =
        body["children"].as_array().unwrap().iter().map(|it| it["name"].as_str().unwrap()).collect();
    assert_eq!(layers, ["disc walnut", "ring pale", "ring [pale*2 walnut]", "ring pale"]);
    let (start, end) = (&body["range"]["start"], &body["range"]["end"]);
    assert!(BOWL[offset(BOWL, start)..offset(BOWL, end)].starts_with("body {"));
}

#[test]
fn blocks_fold() {
    let mut editor = with_bowl();
    let folds = editor.of("textDocument/foldingRange", "bowl.vessel");
    let lines: Vec<(u64, u64)> = folds
        .as_array()
        .unwrap()
        .iter()
        .map(|fold| (fold["startLine"].as_u64().unwrap(), fold["endLine"].as_u64().unwrap()))
        .collect();
    assert_eq!(lines, [(5, 18), (6, 8), (13, 17)]);
}

#[test]
fn code_actions_are_the_fixes_of_findings() {
    let text = bowl_with("ring [pale*2 walnut] name band", "ring pale stagger none");
    let mut editor = Editor::new(&[]);
    editor.open("a.vessel", &text);
    let uri = editor.uri("a.vessel");
    let at = text.find("stagger none").unwrap();
    let range = json!({ "start": position(&text, at), "end": position(&text, at) });
    let context = json!({ "diagnostics": [] });
    let params = json!({ "textDocument": { "uri": uri }, "range": range, "context": context });
    let actions = editor.ask("textDocument/codeAction", params);
    let action = &actions[0];
    assert_eq!(action["kind"], "quickfix");
    assert_eq!(action["diagnostics"][0]["code"], "ring/joints-line-up");
    let mended = applied(&text, &action["edit"]["changes"][&uri]);
    assert_eq!(mended, text.replace("stagger none", "stagger half"));
    editor.write("a.vessel", 2, &mended);
    editor.wait("it is mended", |editor| editor.codes("a.vessel").is_empty());
}

#[test]
fn all_safe_fixes_are_made_at_once() {
    let text = bowl_with("wall 8", "wall 8,").replace("let rim = 120", "let rim = 120;");
    let mut editor = Editor::new(&[]);
    editor.open("a.vessel", &text);
    let uri = editor.uri("a.vessel");
    let start = json!({ "line": 0, "character": 0 });
    let context = json!({ "diagnostics": [], "only": ["source.fixAll"] });
    let params =
        json!({ "textDocument": { "uri": uri }, "range": { "start": start, "end": start }, "context": context });
    let actions = editor.ask("textDocument/codeAction", params);
    assert_eq!(applied(&text, &actions[0]["edit"]["changes"][&uri]), BOWL);
}

#[test]
fn tokens_are_colored_by_what_they_mean() {
    let mut editor = Editor::started(&[]);
    let answer = editor.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
    editor.notify("initialized", json!({}));
    editor.open("bowl.vessel", BOWL);
    let legend = answer["capabilities"]["semanticTokensProvider"]["legend"]["tokenTypes"].clone();
    let data = editor.of("textDocument/semanticTokens/full", "bowl.vessel")["data"].clone();
    let data: Vec<u64> = data.as_array().unwrap().iter().map(|number| number.as_u64().unwrap()).collect();
    let (mut line, mut start, mut found) = (0, 0, Vec::new());
    for token in data.chunks(5) {
        start = if token[0] == 0 { start + token[1] } else { token[1] };
        line += token[0];
        let at = offset(BOWL, &json!({ "line": line, "character": start }));
        let end = offset(BOWL, &json!({ "line": line, "character": start + token[2] }));
        found.push((&BOWL[at..end], legend[token[3] as usize].as_str().unwrap(), token[4]));
    }
    for wanted in [
        ("# A bowl.", "comment", 0),
        ("units", "keyword", 0),
        ("mm", "enumMember", 0),
        ("rim", "variable", 1),
        ("rim", "variable", 0),
        ("pale", "type", 1),
        ("walnut", "type", 0),
        ("stagger", "property", 0),
        ("12", "number", 0),
        ("\"Bowl ½\"", "string", 0),
        ("band", "class", 1),
    ] {
        assert!(found.contains(&wanted), "{wanted:?} in {found:?}");
    }
    let uri = editor.uri("bowl.vessel");
    let range = json!({ "start": { "line": 1, "character": 0 }, "end": { "line": 1, "character": 8 } });
    let part =
        editor.ask("textDocument/semanticTokens/range", json!({ "textDocument": { "uri": uri }, "range": range }));
    assert_eq!(part["data"].as_array().unwrap().len(), 10);
}

#[test]
fn numbers_stand_behind_the_lines_of_layers() {
    let mut editor = with_bowl();
    let uri = editor.uri("bowl.vessel");
    let range = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 99, "character": 0 } });
    let hints = editor.ask("textDocument/inlayHint", json!({ "textDocument": { "uri": uri }, "range": range }));
    let hints = hints.as_array().unwrap();
    assert_eq!(hints.len(), 4);
    let band = &hints[2];
    assert_eq!(offset(BOWL, &band["position"]), BOWL.find(" name band").unwrap() + " name band".len());
    let label = band["label"].as_str().unwrap();
    assert!(label.starts_with("strip ") && label.contains(" mm, long edge "), "{label}");
}

#[test]
fn woods_have_their_colors() {
    let mut editor = with_bowl();
    let colors = editor.of("textDocument/documentColor", "bowl.vessel");
    let colors = colors.as_array().unwrap();
    // Of `like hard-maple`, and of six places in the body.
    assert_eq!(colors.len(), 6, "{colors:?}");
    let of = |word: &str| {
        let at = BOWL.find(word).unwrap();
        colors.iter().find(|it| offset(BOWL, &it["range"]["start"]) == at).unwrap()["color"].clone()
    };
    assert_eq!(of("hard-maple"), of("pale\n"), "an own name has the color of its wood");
    assert!(of("walnut")["red"].as_f64() < of("hard-maple")["red"].as_f64());
    let uri = editor.uri("bowl.vessel");
    let params = json!({ "textDocument": { "uri": uri }, "color": of("walnut"), "range": colors[1]["range"] });
    assert_eq!(editor.ask("textDocument/colorPresentation", params)[0]["label"], "walnut");
}

/// Whole and in part as `ringwright fmt` does it, of a text that is open and not on the disk.
#[test]
fn a_text_is_formatted() {
    let ugly = BOWL
        .replace("  wall 8\n", "      wall    8\n")
        .replace("    ring pale\n    ring [", "  ring   pale\n        ring [");
    let mut editor = Editor::new(&[("bowl.vessel", BOWL)]);
    editor.open("bowl.vessel", &ugly);
    let options = json!({ "tabSize": 8, "insertSpaces": true });
    let text = json!({ "uri": editor.uri("bowl.vessel") });
    let edits = editor.ask("textDocument/formatting", json!({ "textDocument": text, "options": options }));
    let whole = applied(&ugly, &edits);
    assert!(
        whole.contains("\n  wall  8\n  floor 12\n") && whole.contains("\n    ring pale\n    ring [pale*2 walnut]"),
        "{whole}"
    );
    let line = ugly.lines().position(|line| line.contains("wall    8")).unwrap();
    let range = json!({ "start": { "line": line, "character": 3 }, "end": { "line": line, "character": 3 } });
    let edits =
        editor.ask("textDocument/rangeFormatting", json!({ "textDocument": text, "range": range, "options": options }));
    let part = applied(&ugly, &edits);
    assert!(part.contains("\n  wall  8\n") && part.contains("\n  ring   pale\n"), "{part}");
    editor.write("bowl.vessel", 2, &whole);
    let again = editor.ask("textDocument/formatting", json!({ "textDocument": text, "options": options }));
    assert_eq!(again, json!([]), "formatted already");
}

/// Once the plan is made, a layer's hover has the tree that `why` prints.
#[test]
fn a_layer_tells_where_its_strip_comes_from() {
    let mut editor = with_bowl();
    let place = position(BOWL, BOWL.find("ring pale").unwrap() + 1);
    let mut told = String::new();
    for _ in 0..200 {
        told = editor.at("textDocument/hover", "bowl.vessel", &place)["contents"]["value"].as_str().unwrap().to_owned();
        if told.contains("strip width needed = ") {
            break;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    let every = BOWL.lines().position(|line| line.contains("every ring")).unwrap() + 1;
    let segments = format!("segments = 12, by `every` in bowl.vessel, line {every}");
    assert!(told.contains("├─ outside radius of the blank = ") && told.contains(&segments), "{told}");
}
