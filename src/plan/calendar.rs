//! Days counted, for whoever has a clock.

use super::Date;

impl Date {
    /// The day that lies so many days after 1970-01-01, in the Gregorian calendar. `None` past
    /// the year 9999.
    pub fn after_1970(days: u64) -> Option<Self> {
        /// Days in 400 years, in which the calendar repeats itself.
        const CYCLE: u64 = 146_097;
        /// Days from 0000-03-01 to 1970-01-01.
        const TO_1970: u64 = 719_468;
        let day = days.checked_add(TO_1970)?;
        let (cycle, day) = (day / CYCLE, day % CYCLE);
        // Years start in March, so that the day that leap years add is their last.
        let year = (day - day / 1460 + day / 36_524 - day / 146_096) / 365;
        let day_of_year = day - (365 * year + year / 4 - year / 100);
        let month = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * month + 2) / 5 + 1;
        let month = if month < 10 { month + 3 } else { month - 9 };
        let year = 400 * cycle + year + u64::from(month <= 2);
        Some(Self {
            year: u16::try_from(year).ok().filter(|year| *year <= 9999)?,
            month: u8::try_from(month).ok()?,
            day: u8::try_from(day).ok()?,
        })
    }
}
