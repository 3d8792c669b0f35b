//! What is printed on a stock's jacket, and what listing the place of a run asks for.

use super::kin::Kin;
use super::space::{Shell, Space};
use super::topology::House;
use crate::findings::Lack;
use crate::plan::{Air, Building, Crosses, Entry, PathwayKind as Kind, Region, Stock};
use crate::tables::listings::{Family, Grade, Listing, Printed, read_printed};

/// The listing of a stock.
#[derive(Debug, Clone, PartialEq)]
pub enum Jacket {
    /// Known to have none.
    Unrated,
    /// What is known of it, and all of it as the plan writes it.
    Printed(Vec<Printed>, String),
}

impl Jacket {
    /// The rating of a stock.
    ///
    /// # Errors
    /// The plan does not state it.
    pub fn of(stock: &Entry<Stock>) -> Result<Self, Lack> {
        let rating = stock.rating.want("rating", &stock.id)?;
        let texts: Vec<&str> = rating
            .values()
            .map(|text| &**text)
            .filter(|text| *text != "none")
            .collect();
        if rating.0.is_empty() {
            return Err(Lack::absent(format!("rating of {}", stock.id)));
        }
        if texts.is_empty() {
            return Ok(Self::Unrated);
        }
        Ok(Self::Printed(
            texts.iter().filter_map(|text| read_printed(text)).collect(),
            texts.join(" "),
        ))
    }

    fn printed(&self) -> &[Printed] {
        match self {
            Self::Unrated => &[],
            Self::Printed(printed, _) => printed,
        }
    }

    /// The highest grade of what is printed.
    pub fn grade(&self) -> Option<Grade> {
        let grade = |printed: &Printed| {
            printed
                .listing
                .map(Listing::grade)
                .max(printed.flame_mark.map(|mark| mark.near))
        };
        self.printed().iter().filter_map(grade).max()
    }

    /// Whether it holds one listing at most and nothing else that another listing would lose.
    pub fn is_simple(&self) -> bool {
        match self {
            Self::Unrated => true,
            Self::Printed(printed, text) => {
                printed.len() == 1
                    && printed[0]
                        .listing
                        .is_some_and(|listing| listing.name() == text)
            }
        }
    }

    /// The listing, where every listing known on the jacket is one of the X types. The flame marks
    /// of the Canadian code free a cable of that in Canada.
    pub fn dwelling_only(&self, region: Region) -> Option<Listing> {
        let freed = |printed: &Printed| {
            region == Region::Ca && printed.flame_mark.is_some()
                || printed
                    .listing
                    .is_some_and(|listing| !listing.is_dwelling_only())
        };
        if self.printed().iter().any(freed) {
            return None;
        }
        self.printed().iter().find_map(|printed| printed.listing)
    }

    /// Whether a region's code knows anything that is printed.
    pub fn is_known(&self, region: Region) -> bool {
        self.printed()
            .iter()
            .any(|printed| printed.listing.is_some() || region == Region::Ca)
    }

    /// Whether a cable with this jacket may lie where `asked` is asked for.
    pub fn satisfies(&self, asked: Asked, kin: Kin, region: Region) -> bool {
        let Asked::Grade(grade) = asked else {
            return false;
        };
        self.printed().iter().any(|printed| {
            let listed = printed
                .listing
                .is_some_and(|listing| kin.takes(listing, grade));
            let marked =
                region == Region::Ca && printed.flame_mark.is_some_and(|mark| mark.near >= grade);
            listed || marked
        })
    }

    /// The listing that the code demands where a grade is asked for. Coax within the house that is
    /// listed as Class 2 is held against Class 2.
    pub fn demanded(&self, grade: Grade, kin: Kin) -> Listing {
        let class2 = self.printed().iter().any(|printed| {
            printed
                .listing
                .is_some_and(|listing| matches!(listing.family(), Family::Class23 | Family::Tray))
        });
        match kin {
            Kin::InsideCoax if class2 => Kin::Class2.demanded(grade),
            _ => kin.demanded(grade),
        }
    }

    /// The listing that would do, as near to the present one as may be: CL3 becomes CL3P.
    pub fn nearest(&self, grade: Grade, kin: Kin) -> Listing {
        let suffix = suffix(grade);
        let near = self.printed().iter().find_map(|printed| {
            let present = printed.listing?;
            let family = present.name().trim_end_matches(['P', 'R', 'X', 'G']);
            Listing::named(&format!("{family}{suffix}")).filter(|near| kin.takes(*near, grade))
        });
        let common = if kin == Kin::Fibre {
            Listing::named(&format!("OFN{suffix}"))
        } else {
            None
        };
        near.or(common).unwrap_or_else(|| self.demanded(grade, kin))
    }
}

/// What a place asks of a cable in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asked {
    Grade(Grade),
    /// A fabricated duct: no cable outside rigid metal raceway (NEC 300.22(B), from memory).
    NoCable,
}

/// The least and the most that a place may ask, which differ where the plan leaves something out.
#[derive(Debug, Clone, PartialEq)]
pub struct FireDemand {
    pub least: Asked,
    pub most: Asked,
    /// What would settle it.
    pub lack: Option<Lack>,
}

fn suffix(grade: Grade) -> &'static str {
    match grade {
        Grade::DwellingOnly => "X",
        Grade::General => "",
        Grade::Riser => "R",
        Grade::Plenum => "P",
    }
}

impl House<'_> {
    /// Whether the house is a one- or two-family dwelling.
    ///
    /// # Errors
    /// The plan does not say what kind of building it is.
    pub fn is_small_dwelling(&self) -> Result<bool, Lack> {
        match self.plan.building.value() {
            Some(building) => Ok(building.is_small_dwelling()),
            None if self.plan.building.is_bad() => Err(Lack::Reported),
            None => Err(Lack::absent("building of the plan")),
        }
    }

    /// What a space asks of the cable of a run that lies in it so.
    ///
    /// Source: NEC 725.135 / 722.135, 800.113, 300.22(B) and (C) with its exception for joist
    /// spaces of dwellings, from memory. X types: one- and two-family dwellings, or in raceway.
    pub fn fire_demand(&self, run: usize, space: Space) -> FireDemand {
        let way = &self.plan.pathways[space.way as usize];
        let small = self.is_small_dwelling();
        let grade = |grade| Asked::Grade(grade);
        let base = match &small {
            _ if space.shell != Shell::Open => FireDemand::sure(grade(Grade::DwellingOnly)),
            Ok(true) => FireDemand::sure(grade(Grade::DwellingOnly)),
            Ok(false) => FireDemand::sure(grade(Grade::General)),
            Err(lack) => {
                FireDemand::sure(grade(Grade::DwellingOnly)).or(grade(Grade::General), lack)
            }
        };
        let crosses = &self.plan.runs[run].crosses;
        let square = crosses.value() == Some(&Crosses::Square);
        let commercial = self.plan.building.value() == Some(&Building::Commercial);
        let (asked, by_metal) = match way.kind.value() {
            Some(Kind::Plenum) if way.air.is_bad() => {
                return base.or(Asked::NoCable, &Lack::Reported);
            }
            Some(Kind::Plenum) => match way.air.value().unwrap_or(&Air::Space) {
                Air::Duct => (Asked::NoCable, Shell::RigidMetal),
                Air::JoistBay if crosses.is_bad() => {
                    return base.or(grade(Grade::Plenum), &Lack::Reported);
                }
                Air::JoistBay if square && !commercial => return base,
                Air::JoistBay | Air::Space => (grade(Grade::Plenum), Shell::FlexibleMetal),
            },
            Some(Kind::Riser) => match &small {
                Ok(true) => return base,
                Ok(false) => (grade(Grade::Riser), Shell::FlexibleMetal),
                Err(_) if space.shell >= Shell::FlexibleMetal => return base,
                Err(lack) => return base.or(grade(Grade::Riser), lack),
            },
            // A conduit of which the plan does not say what is around it, where that may be a plenum.
            Some(Kind::Conduit | Kind::Raceway) if self.spaces().any_plenum() => {
                let lack = way.inside.want("inside", &way.id).err();
                return match (space.shell, lack) {
                    (Shell::FlexibleMetal | Shell::RigidMetal, _) | (_, None) => base,
                    (_, Some(lack)) => base.or(grade(Grade::Plenum), &lack),
                };
            }
            _ => return base,
        };
        match space.shell {
            shell if shell >= by_metal => base,
            Shell::Unknown(raceway) => {
                let raceway = &self.plan.pathways[raceway as usize];
                let lack = raceway.make.want("make", &raceway.id).err();
                base.or(asked, &lack.unwrap_or(Lack::Reported))
            }
            _ => FireDemand::sure(asked),
        }
    }
}

impl FireDemand {
    fn sure(asked: Asked) -> Self {
        Self {
            least: asked,
            most: asked,
            lack: None,
        }
    }

    /// This, or as much as `most` for want of something.
    fn or(self, most: Asked, lack: &Lack) -> Self {
        Self {
            most: most.max(self.most),
            lack: self.lack.or_else(|| Some(lack.clone())),
            ..self
        }
    }
}
