use super::*;
#[test]
fn debug_slips() {
    let table: &[&str] = &[
        "wall 1,5", "wall 1,500", "wall 0,5 in", "at 0, diameter 3", "ring [maple,walnut, cherry]", "ring [(a,b)*2]",
        "vessel “Caddy – x” {\n wall 1/4\n}", "vessel \"Caddy” {\n wall 1\n}", "ring [maple×3]", "wall 1−1/2", "wall\u{a0}1/4", "wall 1/4\u{3000}",
        "let a = 3 × 4", "use \"shop.vessel", "vessel \"Caddy {\n wall 1\n}", "vessel Caddy {\n wall 1\n}", "Vessel \"Caddy\" {\n wall 1\n}",
        "ring \0\0\0maple", "name \"a\0b\"", "\u{c}\n", "name \"a\u{202e}b\"", "vessel \"x\"\n{\n wall 1\n}", "vessel \"x\" # c\n\n{\n wall 1\n}",
        "{ wall 1 }", "}", "body {\n ring maple\n", "vessel \"x\" {\n body {\n  ring maple\n}\n", "let rim 3/4", "let rim: 3/4", "let rim := 3/4", "let rim", "let rim =", "let = 3", "let 3 = 4", "let rim = 3 4", "let rim = 3 +", "let rim = + 3",
        "let rim = 1,5", "let rim = (3 + 4", "thick = 3/4", "v { thick = 3/4 }", "ring maple thick=3/4", "thick: 3/4", "wall 1/4; floor 1/4", "wall 1/4;", "// a note { } \"", "wall 1/4 // note", "/* x */", "wall 3 /* x */", "let a = 3 // note", "let a = 3 /* n",
        "ring Maple", "ring hardMaple", "ring HARD_MAPLE", "ring maple-", "ring a--b", "ring érable", "12 maple", "ring 12x", "thick 3mmm", "thick 3 1/2mmm", "lives 20 degc", "lives 20degc", "thick 3IN", "thick 3µm", "thick 12hrs", "thick 2'6\"", "thick 3in-1/8in", "thick 1.2.3", "thick 12.", "at 5%rhx",
        "name 'Caddy'", "name `Caddy`", "thick 3/4 \"", "thick 2 '", "use\"file\"", "name \"a\\nb\"", "ring [maple walnut", "ring maple]", "ring [maple (walnut]", "ring [maple [walnut]]", "at rim + 1", "at 3/4 * 2", "at rim - 1/2", "expect mass => 3", "expect mass ≥ 3", "expect mass >=", "expect mass >= >= 3", "at 1 .. 2 .. 3", "at 1 ..", "at (1 + )", "at ()", "at (a b)", "at min(a, b)", "at (min(a b))", "at (min(a,))", "ring [maple*]", "ring [maple*x]", "ring [*3]", "wall @", "wall 1/4 )", "wall 1/0", "at (3 + 1/0) {\n a 1\n}", "wall 9999999999/3", "wall 1e5", "a 1 { b 2, c 3 } d 4", "12 {\n a 1\n}", "ring maple {, }", "a {\n b 1\n }\n{ c 1 }", "“a”", "&&", "let x = 3 {\n a 1\n}", "at ((((1", "at 1 = 2", "at ×", "name \"a\" \"b", "ring [maple,\n walnut]\nwall 1", "a == 3", "wall 3/4/5", "wall 3/4.5", "thick -", "thick - 3", "wall \u{feff}3", "wall 1/4 }", "\r", "wall 1\rfloor 2", "at min(1,5)", "at (1, 2)", "thick:3/4", "ring maple*3", "thick 3/4 x", "wall 3..4x", "at (min(1,5) + )", "a [b", "name \"a\rb\"", "let a == 3", "at (a\n+ b\n", "ring maple 12 12", "wall a [b] .. 3", "wall .. 3", "wall a\"b\"", "ring mapleX", "thick ½½", "at (a-½)", "at (12x)", "ring [maple12x 3x]", "at a-½", "expect mass>=900 g", "at 0..5", "repeat 2(n)", "ring[a b]", "ring [a](b)",
    ];
    for text in table {
        let source = SourceFile { id: FileId(7), name: "t".to_owned(), text: (*text).to_owned() };
        let r = parse(&Arc::new(source));
        println!("--- {text:?}");
        print!("{}", show(&r.value));
        for f in &r.findings {
            println!("   {} | {} | at <{}> | {} | {:?}", f.code.name, f.message, &text[f.place.span.range()], f.help.as_deref().unwrap_or(""), f.fix.as_ref().map(|_| mended(text, f)));
        }
        check_places(&r.value);
        check_findings(&r.value, &r.findings);
    }
}
