//! The riser: that everything is on it once, that no two strokes lie on each other, and that it is
//! sound XML whatever the plan says.

use std::collections::{HashMap, HashSet};

use nailplate::findings::Level;
use nailplate::house::House;
use nailplate::papers::riser::{Flag, MOST, Riser};
use nailplate::plan::{Sort, Thing};
use nailplate::review::Review;
use roxmltree::Document;

use super::letter::{file_of, reviewed, shipped};

fn drawn(review: &Review, flags: &dyn Fn(Thing) -> Vec<Flag>) -> Option<Riser> {
    Riser::of(&House::build(&review.plan, &review.sources), flags)
}

fn plan(text: &str) -> Review {
    reviewed("a.plan.yaml", format!("nailplate: 1\nregion: us\n{text}"))
}

/// What holds of every drawing.
fn in_order(review: &Review, riser: &Riser) {
    let mut runs = HashSet::new();
    for sheet in &riser.sheets {
        let [width, height] = sheet.size;
        let mut lanes: HashMap<i32, Vec<[i32; 2]>> = HashMap::new();
        let rows: HashSet<i32> = sheet.rows.iter().map(|row| row.y).collect();
        assert_eq!(rows.len(), sheet.rows.len(), "a row is in nobody's place");
        for stroke in &sheet.strokes {
            assert!(runs.insert(stroke.run), "{} is drawn once", stroke.name);
            assert!(rows.contains(&stroke.from) && rows.contains(&stroke.to));
            assert!(
                stroke.x > sheet.lanes_from && stroke.x < width,
                "{stroke:?}"
            );
            lanes
                .entry(stroke.x)
                .or_default()
                .push([stroke.top(), stroke.bottom()]);
            let joined = |y: i32| {
                let row = sheet.rows.iter().find(|row| row.y == y).expect("a row");
                row.line
                    .is_some_and(|[from, to]| from < stroke.x && stroke.x <= to)
            };
            assert!(joined(stroke.from) && joined(stroke.to), "{stroke:?}");
        }
        for lane in lanes.values_mut() {
            lane.sort_unstable();
            assert!(lane.windows(2).all(|two| two[0][1] < two[1][0]), "{lane:?}");
        }
        for row in &sheet.rows {
            assert!(row.y > 0 && row.y < height, "{row:?}");
            let home = |bands: &[nailplate::papers::riser::Band]| {
                bands
                    .iter()
                    .filter(|band| band.top < row.y && row.y < band.bottom)
                    .count()
            };
            assert_eq!(
                (home(&sheet.storeys), home(&sheet.rooms)),
                (1, 1),
                "{row:?}"
            );
        }
    }
    let with_ends = review.plan.runs.iter().enumerate();
    let all = with_ends.map(|(index, _)| index).collect();
    runs.extend(&riser.undrawn);
    assert_eq!(runs, all, "every run is drawn, or said not to be");
    let nodes: HashSet<_> = riser
        .sheets
        .iter()
        .flat_map(|sheet| sheet.rows.iter().map(|row| row.node))
        .chain(riser.left_out.iter().copied())
        .collect();
    let things = review.plan.circuits.len() + review.plan.endpoints.len();
    assert_eq!(
        nodes.len(),
        things,
        "so is everything that a run may end on"
    );
}

fn svgs(html: &str) -> Vec<&str> {
    let pieces = html.split("<svg").skip(1);
    let whole = pieces.map(|piece| piece.split_once("</svg>").expect("it ends").0);
    whole
        .map(|inner| {
            let start = inner.as_ptr() as usize - html.as_ptr() as usize - "<svg".len();
            &html[start..start + "<svg".len() + inner.len() + "</svg>".len()]
        })
        .collect()
}

/// The drawings of a letter, read by an XML parser.
fn sound(review: &Review) -> usize {
    let html = file_of(std::slice::from_ref(review));
    let svgs = svgs(&html);
    for svg in &svgs {
        let document = Document::parse(svg).unwrap_or_else(|error| panic!("{error}\n{svg}"));
        let root = document.root_element();
        let has = |name: &str| {
            let own = root
                .children()
                .find(|child| child.tag_name().name() == name);
            own.and_then(|child| child.text())
                .is_some_and(|text| !text.is_empty())
        };
        assert!(has("title") && has("desc"), "it can be told");
        assert_eq!(root.attribute("role"), Some("img"));
    }
    svgs.len()
}

#[test]
fn every_shipped_house_is_drawn_in_order() {
    for review in shipped() {
        let flags = |thing: Thing| match thing.sort {
            // As many as there may be, so that the numbers want room.
            Sort::Run if thing.index.is_multiple_of(2) => vec![
                Flag {
                    number: 99,
                    level: Level::Hazard
                };
                7
            ],
            _ => Vec::new(),
        };
        let riser = drawn(&review, &flags).expect("it can be drawn");
        in_order(&review, &riser);
        assert!(riser.undrawn.is_empty());
        assert_eq!(
            sound(&review),
            drawn(&review, &|_| Vec::new()).expect("so").sheets.len()
        );
    }
}

#[test]
fn storeys_stand_on_each_other_and_what_stands_in_something_below_it() {
    let review = plan(
        "rooms:\n  cellar: {floor: -1}\n  hall: {floor: 0, origin: [0 ft, 0 ft, 0 ft], size: [9 ft, 9 ft, 9 ft]}\n  den: {floor: 1.5}\n  shed: {}\n\
         circuits:\n  C1: {breaker: 15 A, panel: board}\n  C2: {breaker: 15 A, panel: board}\n\
         endpoints:\n  lost: {kind: seat}\n  mast: {kind: antenna, at: [0 ft, 0 ft, 30 ft]}\n  tv: {kind: display, room: den, at-outlet: socket}\n\
         \x20 socket: {kind: outlet, room: den}\n  inner: {kind: switch, in: middle}\n  middle: {kind: switch, in: rack}\n\
         \x20 rack: {kind: rack, room: cellar}\n  board: {kind: breaker-panel, room: hall}\n  spade: {kind: seat, room: shed}\n",
    );
    let riser = drawn(&review, &|_| Vec::new()).expect("it can be drawn");
    in_order(&review, &riser);
    let [sheet] = &riser.sheets[..] else {
        panic!("one sheet")
    };
    let storeys: Vec<_> = sheet.storeys.iter().map(|band| &*band.name).collect();
    assert_eq!(
        storeys,
        [
            "Above all rooms",
            "Storey 1.5",
            "Storey 0",
            "Storey -1",
            "Storey not said",
            "Room not said"
        ]
    );
    let rows: Vec<_> = sheet.rows.iter().map(|row| &*row.name).collect();
    assert_eq!(
        rows,
        [
            "mast", "socket", "tv", "board", "C1", "C2", "rack", "middle", "inner", "spade", "lost"
        ]
    );
    let depth = |name: &str| {
        sheet
            .rows
            .iter()
            .find(|row| row.name == name)
            .map(|row| row.x)
    };
    assert!(depth("rack") < depth("middle") && depth("middle") < depth("inner"));
}

#[test]
fn odd_plans_are_drawn_too() {
    for text in [
        // A run to itself, one without ends, a ring, two of the same ends, a circle of hosts.
        "circuits:\n  C: {}\nendpoints:\n  a: {kind: box, in: b}\n  b: {kind: box, in: a}\n  c: {at-outlet: d}\n  d: {at-outlet: c}\n\
         runs:\n  R1: {from: a, to: a}\n  R2: {from: a}\n  R3: {from: C, to: a}\n  R4: {from: a, to: C}\n  R5: {from: a, to: b, carries: fibre}\n  R6: {from: a, to: b}\n",
        "endpoints:\n  '<b>&amp;\"': {kind: speaker}\n  '</text>': {}\n  'שלום': {kind: rack}\nruns:\n  ']]>': {from: '<b>&amp;\"', to: '</text>'}\n  '<script>': {from: 'שלום', to: '</text>'}\n",
        "circuits:\n  C: {}\n",
        "endpoints:\n  a: {}\n",
    ] {
        let review = plan(text);
        let riser = drawn(&review, &|_| Vec::new()).expect("it can be drawn");
        in_order(&review, &riser);
        assert_eq!(sound(&review), riser.sheets.len());
    }
    let nothing = plan("");
    assert!(drawn(&nothing, &|_| Vec::new()).is_none());
    assert_eq!(sound(&nothing), 0);
}

#[test]
fn deep_in_each_other_and_very_long_names() {
    let names = |n: usize| format!("{}-{n}", "very-long-name-".repeat(4));
    let mut text = "endpoints:\n".to_owned();
    for n in 0..40 {
        let within = if n == 0 {
            String::new()
        } else {
            format!(", in: {}", names(n - 1))
        };
        text += &format!("  {}: {{kind: box{within}}}\n", names(n));
    }
    text += "runs:\n";
    for n in 1..40 {
        text += &format!(
            "  run-{}: {{from: {}, to: {}, carries: data}}\n",
            names(n),
            names(0),
            names(n)
        );
    }
    let review = plan(&text);
    let riser = drawn(&review, &|_| Vec::new()).expect("it can be drawn");
    in_order(&review, &riser);
    assert!(riser.sheets.len() > 1, "more than fit on one sheet");
    for sheet in &riser.sheets {
        assert!(sheet.size[0] < 1200, "{:?}", sheet.size);
    }
    assert_eq!(sound(&review), riser.sheets.len());
}

#[test]
fn what_nobody_could_read_is_not_drawn_and_the_letter_says_so() {
    let of = |count: usize| {
        let mut text = "endpoints:\n  a: {kind: box}\n  b: {kind: box}\nruns:\n".to_owned();
        for n in 0..count {
            text += &format!("  R{n}: {{from: a, to: b, carries: data}}\n");
        }
        plan(&text)
    };
    let most = of(MOST);
    let riser = drawn(&most, &|_| Vec::new()).expect("it can be drawn");
    in_order(&most, &riser);
    let over = of(MOST + 1);
    assert!(drawn(&over, &|_| Vec::new()).is_none());
    let html = file_of(std::slice::from_ref(&over));
    assert!(svgs(&html).is_empty());
    assert!(html.contains(&format!("the plan has {} runs", MOST + 1)));
}
