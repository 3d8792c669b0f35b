//! The inspection letter, read back by a parser that is not ours: that it is sound HTML, and that all
//! that was found is in it.

use std::collections::HashSet;
use std::path::Path;

use nailplate::findings::{Finding, Level};
use nailplate::forms::Words;
use nailplate::forms::letter::{Letters, Place, entry, letter};
use nailplate::plan::{Date, Library};
use nailplate::review::{Became, Entry, NotFound, Owed, Review, Selection, review_text};
use nailplate::yaml::apply;
use scraper::{ElementRef, Html, Selector};

use super::of_all_sorts;

/// Catalogues lie beside the plans; tests run in the crate's folder.
struct Disk;

impl Library for Disk {
    fn load(&self, path: &Path) -> Result<String, String> {
        std::fs::read_to_string(path).map_err(|error| error.to_string())
    }
}

fn day() -> Option<Date> {
    Date::parse("2026-11-25")
}

pub fn reviewed(path: &str, text: String) -> Review {
    let scope = Selection::All.on_day(day().expect("a day"));
    review_text(Path::new(path), text, &Disk, scope)
        .unwrap_or_else(|(_, broken)| panic!("{}", broken.reason))
}

/// Every plan that is shipped, by its path.
pub fn shipped() -> Vec<Review> {
    let mut paths: Vec<_> = std::fs::read_dir("examples")
        .expect("a folder")
        .flatten()
        .map(|file| file.path())
        .filter(|path| path.to_string_lossy().ends_with(".plan.yaml"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 7, "{paths:?}");
    let read = |path: &std::path::PathBuf| {
        let text = std::fs::read_to_string(path).expect("a plan");
        reviewed(&path.to_string_lossy(), text)
    };
    paths.iter().map(read).collect()
}

pub fn file_of(reviews: &[Review]) -> String {
    let mut out = Vec::new();
    let mut letters = Letters::start(&mut out, reviews.len());
    let alone = reviews.len() == 1;
    for (number, review) in (1..).zip(reviews) {
        let entry = entry(review, number);
        let place = Place { number, alone };
        letter(
            review,
            &mut Words::default(),
            day(),
            place,
            letters.next(&entry),
        )
        .expect("a Vec takes everything");
    }
    letters.finish().expect("a Vec takes everything");
    String::from_utf8(out).expect("UTF-8")
}

pub fn all<'d>(document: &'d Html, selector: &str) -> Vec<ElementRef<'d>> {
    let selector = Selector::parse(selector).expect("a selector");
    document.select(&selector).collect()
}

/// The text of an element as it is read: blanks run together, those that do not break ordinary,
/// words of the plan language without their backquotes.
pub fn text(element: ElementRef<'_>) -> String {
    let text: String = element.text().collect();
    plain(&text)
}

pub fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").replace('`', "")
}

/// What every file of letters has to be, whatever is in it.
pub fn sound(html: &str) -> Html {
    let document = Html::parse_document(html);
    assert_eq!(
        document.errors,
        Vec::<std::borrow::Cow<'static, str>>::new(),
        "the parser of the HTML standard has nothing to say"
    );
    assert_eq!(all(&document, "h1").len(), 1, "one title");
    assert_eq!(all(&document, "main").len(), 1);
    assert_eq!(all(&document, "html[lang=en]").len(), 1);
    for never in [
        "script",
        "link",
        "img",
        "iframe",
        "object",
        "embed",
        "form",
        "base",
        "[style]",
        "[src]",
        "[onclick]",
        "[onload]",
    ] {
        assert!(all(&document, never).is_empty(), "no {never}");
    }
    let mut depth = 0;
    for heading in all(&document, "h1, h2, h3, h4, h5, h6") {
        let own: usize = heading.value().name()[1..].parse().expect("a depth");
        assert!(own <= depth + 1, "{} skips a step", text(heading));
        depth = own;
    }
    let mut names = HashSet::new();
    for named in all(&document, "[id]") {
        let name = named.value().id().expect("an id");
        assert!(names.insert(name), "{name} names two things");
    }
    for link in all(&document, "a") {
        let to = link.value().attr("href").expect("a link leads somewhere");
        let within = to.strip_prefix('#').expect("and stays in the file");
        assert!(names.contains(within), "{to} leads nowhere");
    }
    for labelled in all(&document, "[aria-labelledby]") {
        let by = labelled.value().attr("aria-labelledby").unwrap_or_default();
        for name in by.split(' ') {
            assert!(names.contains(name), "{name} labels and is not there");
        }
    }
    for head in all(&document, "thead th") {
        assert_eq!(head.value().attr("scope"), Some("col"));
    }
    document
}

fn holds_finding(article: ElementRef<'_>, finding: &Finding) {
    let said = text(article);
    assert!(said.contains(&plain(&finding.says)), "{}", finding.says);
    assert!(
        said.contains(&finding.level.word().to_uppercase()),
        "{said}"
    );
    assert!(said.contains(finding.rule), "{said}");
    if let Some(figure) = &finding.figure {
        assert!(said.contains(&plain(&figure.working)), "{}", figure.working);
    }
    for redline in &finding.redlines {
        assert!(said.contains(&plain(&redline.title)), "{}", redline.title);
    }
    let selector = Selector::parse("mark.fault").expect("a selector");
    assert!(article.select(&selector).next().is_some(), "{said}");
}

#[test]
fn the_parser_has_something_to_say_where_html_is_not_sound() {
    for broken in [
        "<!DOCTYPE html><p>a</b>",
        "<!DOCTYPE html><p a=1 a=2>",
        "<p>",
    ] {
        assert!(!Html::parse_document(broken).errors.is_empty(), "{broken}");
    }
}

#[test]
fn all_that_was_found_stands_in_the_letter() {
    for review in shipped() {
        let document = sound(&file_of(std::slice::from_ref(&review)));
        let path = review.sources.file(review.file).path.display().to_string();
        let articles = all(&document, "article.observation");
        assert_eq!(articles.len(), review.findings.len(), "{path}");
        let mut levels: Vec<_> = review.findings.iter().map(|f| f.level).collect();
        levels.sort_by(|a, b| b.cmp(a));
        for (number, (article, level)) in articles.iter().zip(levels).enumerate() {
            let head = format!("{} {}", number + 1, level.word().to_uppercase());
            assert!(text(*article).starts_with(&head), "{path}: gravest first");
        }
        for finding in &review.findings {
            let says = plain(&finding.says);
            let own = articles
                .iter()
                .find(|article| text(**article).contains(&says));
            holds_finding(*own.unwrap_or_else(|| panic!("{path}: {says}")), finding);
        }
        let not_judged = all(&document, "section:has(#letter-1-not-judged)");
        let not_judged: String = not_judged.into_iter().map(text).collect();
        for gap in &review.gaps {
            for part in [&plain(&gap.lacks), gap.rule, gap.on[0].as_str()] {
                assert!(not_judged.contains(part), "{path}: {part}");
            }
        }
        let passed = all(&document, "section:has(#letter-1-let-pass) .recorded > li");
        assert_eq!(passed.len(), review.let_pass.len(), "{path}");
        for (item, let_pass) in passed.into_iter().zip(&review.let_pass) {
            let said = text(item);
            let parts = [
                Some(&let_pass.reason),
                Some(&let_pass.by),
                let_pass.until.as_ref(),
                let_pass.approval.as_ref(),
                Some(&let_pass.finding.says),
            ];
            for part in parts.into_iter().flatten() {
                assert!(said.contains(&plain(part)), "{path}: {part} in {said}");
            }
        }
    }
}

#[test]
fn what_is_owed_is_not_passed_over() {
    for mut review in shipped()
        .into_iter()
        .filter(|review| !review.findings.is_empty())
    {
        let since = Date::parse("2026-01-31").expect("a day");
        let owed = |(at, finding): (usize, Finding)| Owed {
            at,
            fingerprint: String::new(),
            entry: Entry::of("a.plan.yaml".into(), &finding, "0123456789abcdef", since),
            finding,
        };
        let found = std::mem::take(&mut review.findings);
        let hazards = found.iter().any(|finding| finding.level == Level::Hazard);
        review.owed = found.into_iter().enumerate().map(owed).collect();
        let gone = review.owed[0].entry.clone();
        review.not_found = vec![NotFound {
            entry: gone,
            became: Became::PutRight,
        }];
        let document = sound(&file_of(std::slice::from_ref(&review)));
        let section = all(&document, "section:has(#letter-1-owed)")[0];
        let said = text(section);
        for owed in &review.owed {
            assert!(said.contains(&plain(&owed.finding.says)), "{said}");
        }
        assert!(
            said.contains("Owed since 2026-01-31") || said.contains("Owed since2026-01-31"),
            "{said}"
        );
        assert!(said.contains("put right"), "{said}");
        let judged = text(all(&document, "section:has(#letter-1-judged)")[0]);
        assert!(!judged.contains("nothing found"), "{judged}");
        assert_eq!(judged.contains("licensed person"), hazards, "{judged}");
    }
}

#[test]
fn what_is_marked_is_what_the_plan_says_there() {
    let review = of_all_sorts();
    let document = sound(&file_of(std::slice::from_ref(&review)));
    let marks = |at: usize| -> Vec<String> {
        let article = all(&document, "article.observation")[at];
        let selector = Selector::parse("mark").expect("a selector");
        article.select(&selector).map(text).collect()
    };
    assert_eq!(marks(0), ["[a: 15 A]", "[b: &load 1900 W]", "[c: nm-12]"]);
    assert_eq!(marks(2), ["[a: 98 ft]"]);
    let lines = all(&document, "article.observation .line .no");
    assert_eq!(text(lines[0]), "line 8");
    let working = text(all(&document, "article.fault dd")[0]);
    assert!(
        working.starts_with("0.4004 ohm, limit 0.4 ohm: 2 × 98 ft"),
        "{working}"
    );
}

/// A line of a suggested edit, with and without what is struck out and what is put in.
fn line_of(code: ElementRef<'_>, without: &str) -> String {
    let unseen = Selector::parse(".unseen").expect("a selector");
    let hidden: HashSet<_> = code.select(&unseen).map(|element| element.id()).collect();
    let gone = Selector::parse(without).expect("a selector");
    let gone: HashSet<_> = code.select(&gone).map(|element| element.id()).collect();
    let kept = code.descendants().filter(|node| {
        node.ancestors()
            .all(|above| !hidden.contains(&above.id()) && !gone.contains(&above.id()))
    });
    kept.filter_map(|node| node.value().as_text().map(|text| text.to_string()))
        .collect()
}

#[test]
fn a_suggested_edit_is_the_line_before_and_the_line_after() {
    let mut tried = 0;
    for review in shipped() {
        let document = sound(&file_of(std::slice::from_ref(&review)));
        for (number, finding) in (1..).zip(by_level(&review)) {
            let selector = format!("#letter-1-observation-{number} dd .line code");
            let lines = all(&document, &selector);
            let [redline] = &finding.redlines[..] else {
                continue;
            };
            let [edit] = &redline.edits[..] else { continue };
            let source = review.sources.file(edit.at.file);
            let line = |text: &str| {
                let start = text[..edit.at.start].rfind('\n').map_or(0, |at| at + 1);
                text[start..].to_owned()
            };
            let after = apply(&source.text, std::slice::from_ref(edit)).expect("it applies");
            let (was, will) = (line(&source.text), line(&after));
            assert_eq!(lines.len(), 1, "{selector}");
            for (whole, without) in [(was, "ins"), (will, "del")] {
                let shown = line_of(lines[0], without);
                // Far from the edit a line may be cut short.
                let shown = shown.trim_start_matches('…').trim_end_matches('…').trim();
                assert!(
                    !shown.is_empty() && whole.contains(shown),
                    "{shown}\n{whole}"
                );
            }
            tried += 1;
        }
    }
    assert!(tried > 20, "{tried}");
}

#[test]
fn several_letters_stand_in_one_file_behind_their_contents() {
    let reviews = shipped();
    let html = file_of(&reviews);
    let document = sound(&html);
    let rows = all(&document, "nav tbody tr");
    let letters = all(&document, "article.letter");
    assert_eq!((rows.len(), letters.len()), (reviews.len(), reviews.len()));
    for (row, review) in rows.into_iter().zip(&reviews) {
        let tally = review.tally();
        let counts = [
            tally.hazard,
            tally.fault,
            tally.advice,
            review.owed.len(),
            review.let_pass.len(),
            tally.gaps,
        ];
        let selector = Selector::parse(".count").expect("a selector");
        let told: Vec<_> = row.select(&selector).map(text).collect();
        assert_eq!(told, counts.map(|count| count.to_string()));
    }
    assert!(html.find("<nav").expect("contents") < html.find("<article").expect("a letter"));
    assert_eq!(html, file_of(&shipped()), "the same again");
}

/// Findings in the order of their numbers.
fn by_level(review: &Review) -> Vec<&Finding> {
    let mut findings: Vec<_> = review.findings.iter().collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.level));
    findings
}
