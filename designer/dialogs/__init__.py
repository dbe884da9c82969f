"""Windows of their own beside the table: the report, advice, table and conditions, photograph.

None of them blocks the window: the coach goes on moving balls while they are open.
"""

from designer.dialogs.advice import AdviceDialog
from designer.dialogs.photo import PhotoDialog
from designer.dialogs.report import ReportDialog
from designer.dialogs.table import TableDialog

__all__ = ["AdviceDialog", "PhotoDialog", "ReportDialog", "TableDialog"]
