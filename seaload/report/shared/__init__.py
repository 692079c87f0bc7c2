"""What the pages share: wording, reading a result, the sheet, styles of figures and charts."""
