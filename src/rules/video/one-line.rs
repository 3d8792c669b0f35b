//! A projector or built-in display with a single video line.

use crate::findings::{Finding, Lack, Report};
use crate::house::{Beside, House};
use crate::plan::{EndpointKind as Kind, Service};
use crate::rules::Sheet;

pub use crate::rules::NoLimits as Limits;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let beside = house.beside();
    for kind in [Kind::Projector, Kind::Display] {
        for index in house.endpoints_of(kind) {
            let display = &house.plan.endpoints[index];
            match single(house, index, kind, beside) {
                Err(lack) => out.gap(sheet.id, &display.id, lack),
                Ok(Lines::None) => {}
                Ok(Lines::Enough) => out.checked(),
                Ok(Lines::Single(run)) => {
                    out.checked();
                    out.find(finding(house, sheet, index, run));
                }
            }
        }
    }
    // It may be one of these.
    for index in house.kindless() {
        let endpoint = &house.plan.endpoints[index];
        let lines = house.display_lines(index, beside).runs.len();
        let shows = !endpoint.picture.is_absent() || !endpoint.throw.is_absent() || lines > 0;
        let shows = shows && lines < 2;
        if let (true, Err(lack)) = (shows, endpoint.kind.want("kind", &endpoint.id)) {
            out.gap(sheet.id, &endpoint.id, lack);
        }
    }
}

enum Lines {
    /// The plan has no video lines, which may be drawn elsewhere.
    None,
    /// Two or more, or one that is changed at sight.
    Enough,
    Single(usize),
}

fn single(house: &House<'_>, index: usize, kind: Kind, beside: &Beside) -> Result<Lines, Lack> {
    let lines = house.display_lines(index, beside);
    match (&lines.runs[..], lines.lack) {
        ([_, _, ..], _) => Ok(Lines::Enough),
        (_, Some(lack)) => Err(lack),
        ([run], None) => {
            // A projector's line is closed in or out of reach unless the plan says otherwise.
            let fixed = match kind {
                Kind::Projector => !house.is_in_the_open(*run)?,
                _ => house.is_closed_in(*run)?,
            };
            Ok(if fixed {
                Lines::Single(*run)
            } else {
                Lines::Enough
            })
        }
        ([], None) if !wants_video(house, kind) => Ok(Lines::None),
        ([], None) => {
            let id = &house.plan.endpoints[index].id;
            Err(Lack::absent(format!("a video run to {id}")))
        }
    }
}

/// Whether a line to a display would be in this plan: it has others, or, for a projector, which shows nothing without,
/// any line of sound or control.
fn wants_video(house: &House<'_>, kind: Kind) -> bool {
    let has = |service: &Service| house.runs_of(*service).next().is_some();
    let beside = [Service::Speaker, Service::Line, Service::Control];
    has(&Service::Video) || kind == Kind::Projector && beside.iter().any(has)
}

fn finding(house: &House<'_>, sheet: &Sheet, index: usize, run: usize) -> Finding {
    let display = &house.plan.endpoints[index];
    let entry = &house.plan.runs[run];
    let spare = if house.is_spare(run) { "spare " } else { "" };
    let says = format!(
        "{} has a single video line, the {spare}run {}, 2 are advised",
        display.id, entry.id
    );
    let words = format!("pull a second video line beside {} as a spare", entry.id);
    sheet
        .finding(&display.id, says, display.span, "one video line ends here")
        .with_on(&entry.id)
        .with_mark(entry.through.span().unwrap_or(entry.span), "by this way")
        .with_put_right(words)
}
