//! The layout, sort by sort.

use insta::assert_snapshot;

use super::formatted;

#[test]
fn blocks_are_indented_and_one_statement_stands_on_a_line() {
    assert_snapshot!(formatted("units   in\n\n\n\nvessel \"Cup\"{\n\n\toutside{at 0 diameter 3   at 1 diameter 4}\n    \
        body {\n  ring maple} }\nwood a {like maple} wood b {like ash}"), @r#"
    units in

    vessel "Cup" {
      outside { at 0 diameter 3  at 1 diameter 4 }
      body {
        ring maple
      }
    }
    wood a { like maple }
    wood b { like ash }
    "#);
}

#[test]
fn like_lines_share_their_columns() {
    assert_snapshot!(formatted("vessel \"Cup\" {\noutside {\nat 0 diameter 3 1/2\nat 1 1/2 diameter 4\n\
        foot diameter 3 tall 1/4\nbead at 1 tall 1/8\n}\nwall 1/4\nfloor 3/8\nbody {\ndisc dark thick 3/8\n\
        repeat 3 { ring maple }\nring [maple walnut] thick 1 name band\nring ash stagger half\n\nring ash thick 1\n}\n\
        expect mass <= 1 kg\nexpect capacity >= 1 l\n}\nlet a = 1\nlet long-name = a\n"), @r#"
    vessel "Cup" {
      outside {
        at 0      diameter 3 1/2
        at 1 1/2  diameter 4
        foot      diameter 3  tall 1/4
        bead      at 1        tall 1/8
      }
      wall  1/4
      floor 3/8
      body {
        disc dark            thick 3/8
        repeat 3 { ring maple }
        ring [maple walnut]  thick 1  name band
        ring ash             stagger half

        ring ash  thick 1
      }
      expect mass     <= 1 kg
      expect capacity >= 1 l
    }
    let a         = 1
    let long-name = a
    "#);
}

#[test]
fn shop_inserts_boards_and_charts_are_tables() {
    assert_snapshot!(formatted("shop {\nkerf 2\nsafe-piece 20\nboards {\nash thick 20 wide 100 long 900 rough\n\
        black-walnut thick 5 wide 90 long 1000 count 3\n}\n}\nchart c {\nm=maple\nwn=walnut\nrows {\nm wn m\nwn m m\n}\n}\n\
        board b {\nwalnut 3\nash 12\n}\nboard d { pale 5 dark 3 }\ninsert knob {\nwood olive\ninto body side at 6 facing 15°\n\
        tenon diameter 1/2 long 3\n}"), @r#"
    shop {
      kerf       2
      safe-piece 20
      boards {
        ash           thick 20  wide 100  long 900   rough
        black-walnut  thick 5   wide 90   long 1000  count 3
      }
    }
    chart c {
      m  = maple
      wn = walnut
      rows {
        m  wn m
        wn m  m
      }
    }
    board b {
      walnut 3
      ash    12
    }
    board d { pale 5  dark 3 }
    insert knob {
      wood olive
      into body side at 6 facing 15°
      tenon diameter 1/2 long 3
    }
    "#);
}

#[test]
fn comments_stay_where_they_are() {
    assert_snapshot!(formatted("#head\n\n\n  # and more   \nvessel \"Cup\" { # opens\n\n# first\nwall 1/4# thin\n\
        floor 3/8     # thick\ntop 1\nlid { # empty\n}\n\n      # last\n\n} # closed\n# end"), @r#"
    #head

    # and more
    vessel "Cup" {  # opens
      # first
      wall  1/4  # thin
      floor 3/8  # thick
      top   1
      lid {      # empty
      }

      # last
    }  # closed
    # end
    "#);
}

#[test]
fn long_lists_are_broken_and_short_ones_joined() {
    let long = "maple walnut ".repeat(12);
    assert_snapshot!(formatted(&format!("vessel \"C\" {{ body {{ \n ring [\n maple\n walnut ] segments 12 \n \
        ring [ {long} (a b)*2 ]   stagger half\n\n ring [\n   (maple walnut) *2 # the band\n # its edge\n cherry \
        ash # both\n ] thick 3 {{ accept ring because \"so\" }}\n }} }}")), @r#"
    vessel "C" {
      body {
        ring [maple walnut]  segments 12
        ring [
          maple walnut maple walnut maple walnut maple walnut maple walnut maple walnut maple walnut
          maple walnut maple walnut maple walnut maple walnut maple walnut (a b)*2
        ]  stagger half

        ring [
          (maple walnut)*2  # the band
          # its edge
          cherry ash  # both
        ]  thick 3 {
          accept ring because "so"
        }
      }
    }
    "#);
}

#[test]
fn what_is_computed_has_room_and_numbers_are_as_written() {
    assert_snapshot!(formatted("let a=-(rim -1/2)*2/max( rim,3 in ,-  b)>=0\nlet b = - - 1/2\nlet c = (1\n-1-1/2)\n\
        at(rim)  diameter 1 3/8in\nlives 35%rh..60%rh\nexpect mass<=900 g\nat 1-1/2 diameter ½ ft\nat 1   ½  diameter 1 1/2\t\"\n"), @r#"
    let a = -(rim - 1/2) * 2 / max(rim, 3 in, -b) >= 0
    let b = -- 1/2
    let c = (1 - 1-1/2)
    at (rim) diameter 1 3/8in
    lives 35%rh .. 60%rh
    expect mass <= 900 g
    at 1-1/2 diameter ½ ft
    at 1   ½  diameter 1 1/2	"
    "#);
}

#[test]
fn what_would_become_one_number_stays_apart() {
    assert_snapshot!(formatted("ring [12\nm 3\n1/2 3 mm\nwalnut 70%\nash\n]\n"), @r"
    ring [
      12
      m 3
      1/2 3 mm  walnut 70%  ash
    ]
    ");
}

#[test]
fn lines_that_cannot_be_read_keep_their_bytes() {
    assert_snapshot!(formatted("vessel \"Cup\" {\nwall  1/4\n   floor:   3/8 \n\ttop   1 ; # why\nouside smooth, {   # odd\n\
        at 0   diameter 3\n}\nring maple\n  {\n thick   3 }\n\n\n every ring { thick   3 , }\n lid   {  disc ash } \n"), @r#"
    vessel "Cup" {
      wall 1/4
       floor:   3/8 
    	top   1 ; # why
    ouside smooth, {   # odd
        at 0 diameter 3
      }
    ring maple
      {
        thick 3
      }

     every ring { thick   3 , }
      lid { disc ash }
    "#);
}

#[test]
fn line_ends_are_those_of_most_lines() {
    assert_eq!(
        formatted("\u{FEFF}units   mm\r\n\r\n\r\nwood a {\nlike ash }\r\n"),
        "\u{FEFF}units mm\r\n\r\nwood a {\r\n  like ash\r\n}\r\n"
    );
    assert_eq!(formatted("units mm\r\n\nlet a = 1\n"), "units mm\n\nlet a = 1\n");
    assert_eq!(formatted("units mm"), "units mm\n");
}

#[test]
fn a_text_of_little_has_little_to_format() {
    for (text, now) in [
        ("", ""),
        (" \n\t\r\n", ""),
        ("\u{FEFF}", "\u{FEFF}"),
        ("#", "#\n"),
        ("\n\n  # a \t\n\n\n#b", "# a\n\n#b\n"),
        ("a {}", "a {}\n"),
        ("a {\n\n}", "a {}\n"),
        ("}", "}"),
    ] {
        assert_eq!(formatted(text), now);
    }
}

/// Behind the second bracket nothing can be read, so that the first one is not wrapped; its comments end their lines all the same.
#[test]
fn a_comment_swallows_nothing_where_a_bracket_cannot_be_wrapped() {
    let text = "vessel \"A\" {\n  body {\n    ring mirror [\n      maple   # one\n      cherry  # two\n    ][ segmring as i { ring maple }\n  }\n}\n";
    let now = formatted(text);
    assert!(now.contains("# one\n") && now.contains("cherry") && !now.contains("# one cherry"), "{now}");
    assert_eq!(formatted(&now), now);
}
