//! The day of a review: as given, else today.

use std::time::{SystemTime, UNIX_EPOCH};

use crate::plan::Date;

/// On which day variances have to hold.
#[derive(Debug, clap::Args)]
pub struct Day {
    /// Day on which variances have to hold; today (UTC) if left out
    #[arg(long = "dated", value_name = "YEAR-MONTH-DAY", value_parser = parse)]
    dated: Option<Date>,
}

impl Day {
    /// The day given, else what the computer's clock says; `None` where that is before 1970.
    pub fn or_today(&self) -> Option<Date> {
        let today = || {
            let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
            Date::after_1970(since.as_secs() / 86_400)
        };
        self.dated.or_else(today)
    }
}

fn parse(text: &str) -> Result<Date, String> {
    let is_written_so = text.split('-').map(str::len).eq([4, 2, 2]);
    let reason = if is_written_so {
        "there is no such day"
    } else {
        "a day is written as 2026-11-02"
    };
    Date::parse(text).ok_or_else(|| reason.to_owned())
}
