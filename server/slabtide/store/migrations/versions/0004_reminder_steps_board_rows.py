"""the steps of each reminder's life; the board's rows; an index for what runs out"""

from datetime import UTC, datetime

from alembic import op
import sqlalchemy as sa
from slabtide.store import types

revision = '0004'
down_revision = '0003'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('reminder_step',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('reminder_id', sa.String(length=36), nullable=False),
    sa.Column('id', sa.String(length=36), nullable=False),
    sa.Column('at', types.UtcDateTime(), nullable=False),
    sa.Column('step', sa.String(length=12), nullable=False),
    sa.Column('subscription_id', sa.String(length=36), nullable=True),
    sa.Column('detail', sa.JSON(none_as_null=True), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'reminder_id', 'id', name=op.f('pk_reminder_step'))
    )
    op.create_table('board_row',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('job', sa.String(length=36), nullable=False),
    sa.Column('open', sa.Boolean(), nullable=False),
    sa.Column('stale_at', types.UtcDateTime(), nullable=True),
    sa.Column('name', sa.String(length=80), nullable=False),
    sa.Column('search', sa.Text(), nullable=False),
    sa.Column('phase', sa.String(length=12), nullable=False),
    sa.Column('pour_at', types.UtcDateTime(), nullable=True),
    sa.Column('due', types.UtcDateTime(), nullable=True),
    sa.Column('closes', types.UtcDateTime(), nullable=True),
    sa.Column('next_stage', sa.String(length=12), nullable=True),
    sa.Column('next_state', sa.String(length=14), nullable=True),
    sa.Column('trouble', sa.Boolean(), nullable=False),
    sa.Column('devices', sa.JSON(none_as_null=True), nullable=True),
    sa.Column('shown', sa.JSON(none_as_null=True), nullable=True),
    sa.PrimaryKeyConstraint('company_id', 'job', name=op.f('pk_board_row'))
    )
    with op.batch_alter_table('board_row', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_board_row_company_id_open'), ['company_id', 'open'], unique=False)
        batch_op.create_index(batch_op.f('ix_board_row_stale_at'), ['stale_at'], unique=False)
    with op.batch_alter_table('reminder', schema=None) as batch_op:
        batch_op.add_column(sa.Column('noted_due', types.UtcDateTime(), nullable=True))
        batch_op.create_index(batch_op.f('ix_reminder_state_expires'), ['state', 'expires'], unique=False)
    _every_job_is_to_be_looked_at()


def _every_job_is_to_be_looked_at() -> None:
    """Rows that are stale from the start: the worker fills them in, a few hundred at a time."""
    marks = sa.table('job_mark', sa.column('company_id'), sa.column('job'))
    rows = sa.table('board_row', *(sa.column(name) for name in
        ('company_id', 'job', 'name', 'search', 'phase')),
        sa.column('open', sa.Boolean()), sa.column('trouble', sa.Boolean()),
        sa.column('stale_at', types.UtcDateTime()))
    begin = sa.literal(datetime(2000, 1, 1, tzinfo=UTC), types.UtcDateTime())
    empty, yes, no = sa.literal(''), sa.true(), sa.false()
    op.execute(rows.insert().from_select(
        ['company_id', 'job', 'name', 'search', 'phase', 'open', 'trouble', 'stale_at'],
        sa.select(marks.c.company_id, marks.c.job, empty, empty, empty, yes, no, begin)))


def downgrade() -> None:
    with op.batch_alter_table('reminder', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_reminder_state_expires'))
        batch_op.drop_column('noted_due')
    op.drop_table('board_row')
    op.drop_table('reminder_step')
