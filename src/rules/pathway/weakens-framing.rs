//! A hole or notch that takes too much out of a stud, joist or rafter.

use crate::figures::framing::{joist_limits, stud_limits};
use crate::findings::{Finding, Lack, Report, Shown};
use crate::house::{House, edge_of};
use crate::plan::{Entry, Framing, Member, Pathway, Region, Small, Stated, YesNo};
use crate::rules::{Sheet, over};
use crate::tables::framing::plate_share;
use crate::units::{Distance, Length, figure3, unit};
use crate::yaml::Span;

pub use crate::rules::NoLimits as Limits;

/// A rounding between inches and millimetres.
const ROUNDING: f64 = 1e-9;

pub fn judge(house: &House<'_>, sheet: &Sheet, out: &mut Report) {
    let Ok(region) = house.region() else { return };
    for (index, way) in house.plan.pathways.iter().enumerate() {
        if way.is_raceway() || way.framing.is_bad() || !house.is_passed(index) {
            continue;
        }
        let Some(framing) = way.framing.value() else {
            match way.kind.want("kind", &way.id) {
                Ok(kind) if !House::is_framed(**kind) => {}
                Ok(_) => out.gap(
                    sheet.id,
                    &way.id,
                    Lack::absent(format!("framing of {}", way.id)),
                ),
                Err(lack) => out.gap(sheet.id, &way.id, lack),
            }
            continue;
        };
        if framing.0.is_empty() {
            out.checked();
            continue;
        }
        if region != Region::Us {
            let lack = format!(
                "a limit for {region} on holes and notches in the framing of {}",
                way.id
            );
            out.gap(sheet.id, &way.id, Lack::absent(lack));
            continue;
        }
        let mut lacks: Vec<Lack> = Vec::new();
        for entry in framing.iter() {
            let mut cut = Cut {
                way,
                entry,
                weak: Vec::new(),
                lacks: Vec::new(),
            };
            if let Err(lack) = cut.judge() {
                cut.lacks.push(lack);
            }
            if cut.lacks.is_empty() || !cut.weak.is_empty() {
                out.checked();
            }
            for weak in &cut.weak {
                out.find(cut.finding(sheet, weak));
            }
            // What lacks is told once for all holes of a pathway.
            for lack in cut.lacks {
                if !lacks.contains(&lack) {
                    lacks.push(lack);
                }
            }
        }
        for lack in lacks {
            out.loud_gap(sheet.id, &way.id, lack);
        }
    }
}

struct Cut<'a> {
    way: &'a Entry<Pathway>,
    entry: &'a Stated<Framing>,
    weak: Vec<Weak>,
    lacks: Vec<Lack>,
}

/// What is too much: the measure, what is allowed, and where it stands.
struct Weak {
    figure: &'static str,
    /// The measure in its own unit, as the sentence has it.
    says: String,
    found: Distance,
    allowed: Distance,
    /// Which share of what is allowed.
    share: &'static str,
    at: Option<Span>,
    label: &'static str,
    authority: &'static str,
    put_right: String,
}

const STUD: &str = "IRC R602.6";
const JOIST: &str = "IRC R502.8.1";
const RAFTER: &str = "IRC R802.7.1, from memory";

impl Cut<'_> {
    fn lack(&self, key: &str) -> Lack {
        Lack::absent(format!("{key} in the framing of {}", self.way.id))
    }

    fn word(&self) -> &'static str {
        self.entry
            .member
            .value()
            .map_or("framing member", |member| member.word())
    }

    fn judge(&mut self) -> Result<(), Lack> {
        let (entry, id) = (self.entry, &self.way.id);
        let member = entry.member.want("member in the framing", id)?;
        if entry.hole.is_bad() || entry.notch.is_bad() || entry.edge.is_bad() {
            return Err(Lack::Reported);
        }
        if entry.hole.is_absent() && entry.notch.is_absent() {
            return Err(self.lack("hole or notch"));
        }
        match **member {
            Member::Stud => self.stud(),
            Member::Joist => self.joist(JOIST),
            Member::Rafter => self.joist(RAFTER),
            Member::Plate => self.plate(),
            Member::Truss => Err(self.lack("the maker's word on the truss")),
            Member::EngineeredJoist => {
                Err(self.lack("the maker's chart of holes for the engineered joist"))
            }
        }
    }

    fn depth(&self) -> Result<Distance, Lack> {
        let depth = self
            .entry
            .depth
            .want("depth in the framing", &self.way.id)?;
        Ok(***depth)
    }

    fn stud(&mut self) -> Result<(), Lack> {
        let (entry, depth) = (self.entry, self.depth()?);
        let doubled = entry.doubled.or(YesNo(false))?.0;
        let limits = |bearing| stud_limits(depth, bearing, doubled).ok_or(Lack::Reported);
        let bearing = match entry.bearing.value() {
            Some(bearing) => Some(bearing.0),
            None if entry.bearing.is_bad() => return Err(Lack::Reported),
            None => None,
        };
        // Where the plan does not say whether it bears, what no stud may lose is still too much.
        let (ease, strict) = (
            limits(bearing.unwrap_or(false))?,
            limits(bearing.unwrap_or(true))?,
        );
        let kind = match bearing {
            Some(true) if doubled => "of a doubled stud that bears",
            Some(true) => "of a stud that bears",
            Some(false) => "of a stud that bears nothing",
            None => "of any stud",
        };
        for (what, cut, ease, strict) in [
            ("hole", &entry.hole, ease.hole, strict.hole),
            ("notch", &entry.notch, ease.notch, strict.notch),
        ] {
            let Some(cut) = cut.stated() else { continue };
            if !self.cut(what, cut, ease, kind, STUD) && over(cut.base(), strict.base()) {
                self.lacks.push(self.lack("bearing"));
            }
        }
        self.near_edge(ease.edge, STUD);
        Ok(())
    }

    /// No limit is set, but beyond half of its width a top plate wants a tie, which a plan does not state.
    fn plate(&self) -> Result<(), Lack> {
        let (entry, depth) = (self.entry, self.depth()?);
        let half = plate_share() * depth.base();
        let cuts = [entry.hole.value(), entry.notch.value()];
        let deep = |cut: &&Small| over(cut.base(), half);
        match cuts.into_iter().flatten().any(|cut| deep(&cut)) {
            true => Err(self.lack(
                "whether a metal tie mends the cut of more than half (IRC R602.6.1) of a plate",
            )),
            false => Ok(()),
        }
    }

    fn joist(&mut self, authority: &'static str) -> Result<(), Lack> {
        const SHARE: &str = "of its depth";
        let (entry, depth) = (self.entry, self.depth()?);
        let limits = joist_limits(depth).ok_or(Lack::Reported)?;
        if let Some(hole) = entry.hole.stated() {
            self.cut("hole", hole, limits.hole, SHARE, authority);
            self.near_edge(limits.clear, authority);
        }
        let Some(notch) = entry.notch.stated() else {
            return Ok(());
        };
        let from_end = match entry.from_end.want("from-end in the framing", &self.way.id) {
            Ok(from_end) => from_end,
            Err(lack) => {
                let deep = self.cut("notch", notch, limits.end_notch_depth, SHARE, authority);
                return if deep { Ok(()) } else { Err(lack) };
            }
        };
        // At the end itself a notch may be deeper, and no length is set.
        if from_end.base() == 0.0 {
            self.cut("notch", notch, limits.end_notch_depth, SHARE, authority);
            return Ok(());
        }
        self.cut("notch", notch, limits.notch_depth, SHARE, authority);
        let length = entry
            .notch_length
            .want("notch-length in the framing", &self.way.id)?;
        self.cut(
            "notch-length",
            length,
            limits.notch_length,
            SHARE,
            authority,
        );
        let span = entry.value.span.want("span in the framing", &self.way.id)?;
        let third =
            Distance::new(span.number() / 3.0, span.unit().spelling).ok_or(Lack::Reported)?;
        // Its inner end from the nearer end of the joist, whichever end was measured from.
        let (inner, rest) = (
            from_end.base() + length.base(),
            span.base() - from_end.base(),
        );
        if over(inner, span.base()) {
            return Err(self.lack("a from-end within the span"));
        }
        let reaches = inner.min(rest);
        if over(reaches, third.base()) {
            let reach = third.same_unit(Length::new::<unit::meter>(reaches));
            let weak = self.in_the_middle(reach, third, from_end.span, authority);
            self.weak.push(weak);
        }
        Ok(())
    }

    fn in_the_middle(
        &self,
        reach: Distance,
        third: Distance,
        at: Span,
        authority: &'static str,
    ) -> Weak {
        Weak {
            figure: "notch-reach",
            says: format!(
                "{} has a notch that reaches {} from the end of a {}, into the middle third of its span, which begins at {}",
                self.way.id,
                reach.rounded_words(),
                self.word(),
                third.rounded_words(),
            ),
            found: reach,
            allowed: third,
            share: "a third of the span",
            at: Some(at),
            label: "in the middle third",
            authority,
            put_right: format!(
                "bore a hole instead of the notch, or keep it within {} of the end",
                third.rounded_words()
            ),
        }
    }

    /// Whether a hole or notch is more than allowed; notes it if it is.
    fn cut(
        &mut self,
        what: &'static str,
        found: &Stated<Small>,
        allowed: Distance,
        share: &'static str,
        authority: &'static str,
    ) -> bool {
        if !over(found.base(), allowed.base()) {
            return false;
        }
        let allowed = found.same_unit(allowed.quantity());
        let of = if what == "notch-length" {
            "notch with a length"
        } else {
            what
        };
        let depth = self
            .entry
            .depth
            .value()
            .map_or_else(String::new, |depth| depth.to_string());
        let weak = Weak {
            figure: what,
            says: format!(
                "{} has a {of} of {} in a {} of {depth}, allowed is {}",
                self.way.id,
                ***found,
                self.word(),
                allowed.rounded_words(),
            ),
            found: ***found,
            allowed,
            share,
            at: Some(found.span),
            label: "too much",
            authority,
            put_right: format!(
                "keep it to {}, share the cables between several members, or have the {} mended as the authority having jurisdiction accepts",
                allowed.rounded_words(),
                self.word()
            ),
        };
        self.weak.push(weak);
        true
    }

    /// A hole that leaves too little wood at its side; one that is too wide anyway has been noted.
    fn near_edge(&mut self, least: Distance, authority: &'static str) {
        if self.entry.hole.is_absent() || self.weak.iter().any(|weak| weak.figure == "hole") {
            return;
        }
        let edge = match edge_of(self.entry) {
            Some(edge) if edge.metres < least.base() - ROUNDING => edge,
            Some(edge) if !edge.at_most => return,
            _ => return self.lacks.push(self.lack("edge of a hole")),
        };
        let least = edge.shown.same_unit(least.quantity());
        let weak = Weak {
            figure: "edge-distance",
            says: format!(
                "{} has a hole {} from the edge of a {}, least is {}",
                self.way.id,
                edge.says(),
                self.word(),
                least.rounded_words(),
            ),
            found: edge.shown,
            allowed: least,
            share: "least wood at its side",
            at: self.entry.edge.span().or(self.entry.hole.span()),
            label: "near the edge",
            authority,
            put_right: format!(
                "bore nearer to the middle, or a smaller hole, so that {} of wood is left at its side",
                least.rounded_words()
            ),
        };
        self.weak.push(weak);
    }

    fn finding(&self, sheet: &Sheet, weak: &Weak) -> Finding {
        let figure = Shown {
            name: weak.figure,
            value: weak.found.base() * 1000.0,
            unit: "mm",
            working: self.working(weak),
        };
        sheet
            .finding(
                &self.way.id,
                weak.says.clone(),
                weak.at.unwrap_or(self.entry.span),
                weak.label,
            )
            .with_figure(figure, weak.allowed.base() * 1000.0)
            .with_authority(weak.authority)
            .with_put_right(weak.put_right.clone())
    }

    fn working(&self, weak: &Weak) -> String {
        let depth = self.entry.depth.value().filter(|depth| depth.base() > 0.0);
        match (weak.figure, depth) {
            ("hole" | "notch" | "notch-length", Some(depth)) => format!(
                "{} against {} % {}, {} × {} = {}",
                weak.found.rounded_words(),
                figure3(100.0 * weak.allowed.base() / depth.base()),
                weak.share,
                figure3(weak.allowed.base() / depth.base()),
                **depth,
                weak.allowed.rounded_words(),
            ),
            ("edge-distance", _) => {
                let edge = edge_of(self.entry).map_or_else(String::new, |edge| edge.working());
                format!("{edge}; {} {}", weak.share, weak.allowed.rounded_words())
            }
            _ => format!(
                "{}; {} is {}",
                weak.found.rounded_words(),
                weak.share,
                weak.allowed.rounded_words()
            ),
        }
    }
}
