"""Documents made from a planned job. A report is a frozen value first and a document after; this is their register."""

from holesched.reports import process_sheet, setup_sheet
from holesched.reports.base import Report

REPORTS: tuple[Report, ...] = (process_sheet.REPORT, setup_sheet.REPORT)
"""Every HTML or PDF report of a job. The workbook and sheet.json are written beside them (write.py)."""
